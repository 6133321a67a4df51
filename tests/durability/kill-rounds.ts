import { expect } from 'vitest'
import { type RunningProcess, startProcess } from '../process/running-process.js'
import { type Acknowledged, ANODES, addBoats, attempt, Crew, LIFT_BOATS, type Sent, type Write } from './writers.js'

/** ROUNDS=200 asks for what the durability of a release rests on; LONG=1 for what CI does, and each run of the long tests has a few. */
export const KILLS = Number(process.env.ROUNDS ?? (process.env.LONG === '1' ? 10 : 5))
const FEWEST_WRITES = 6
/** Of how many lives each lasts one write longer than the one before: then they begin short again. */
const LIVES_A_TURN = 20
const PAGE = 200

interface Stored {
  readonly boats: readonly { id: string; name: string }[]
  readonly weighings: readonly { id: string; boat: string; weighedOn: string; massG: number }[]
  readonly haulOuts: readonly { id: string; boat: string; hauledOn: string }[]
}

/**
 * Many lives of the service on one database, each ended by SIGKILL under write load, the next after one acknowledged
 * write more. A killed process leaves its files to the operating system: this shows that nothing acknowledged waits
 * in the process's own memory, and that recovery works. It does not show what a power cut does; for that see the test of syncs.
 */
export async function surviveKills(environment: Record<string, string>): Promise<void> {
  const crew = new Crew()
  const acknowledged: Acknowledged[] = []
  const restarts: number[] = []
  let inDoubt = 0
  let service = await startProcess(environment)
  await addBoats(service)
  for (let round = 0; round < KILLS; round++) {
    const sent = await crew.writeUntilKilled(service, FEWEST_WRITES + (round % LIVES_A_TURN))
    acknowledged.push(...sent.acknowledged)
    inDoubt += sent.inDoubt.length
    const killedAt = performance.now()
    service = await startProcess(environment)
    restarts.push(performance.now() - killedAt)
    const stored = await readAll(service)
    expectAll(acknowledged, stored)
    expectWhole(stored)
    await expectNothingTwice(service, sent, stored)
  }
  expect(await service.stop('SIGTERM')).toBe(0)
  console.log(
    `${KILLS} kills: ${acknowledged.length} writes acknowledged, none lost; ${inDoubt} in doubt, none half; ` +
      `restarts ${Math.round(Math.min(...restarts))} to ${Math.round(Math.max(...restarts))} ms`,
  )
}

/** Every acknowledged write of every life so far is there, as it was answered. */
function expectAll(acknowledged: readonly Acknowledged[], stored: Stored): void {
  const rows = new Map<string, object>()
  for (const row of [...stored.boats, ...stored.weighings, ...stored.haulOuts]) rows.set(row.id, row)
  const lost = acknowledged.filter(({ answer }) => !rows.has(answer.id))
  expect(lost).toEqual([])
  for (const { answer, body } of acknowledged) {
    const { weighings: _apart, ...fields } = body
    expect(rows.get(answer.id)).toMatchObject(fields)
  }
}

/** A haul-out has all of its weighings, and no weighing of a lift is there without its haul-out. */
function expectWhole({ weighings, haulOuts }: Stored): void {
  const lifts = new Map(haulOuts.map(({ boat, hauledOn }) => [`${boat} ${hauledOn}`, 0]))
  expect(lifts.size).toBe(haulOuts.length)
  for (const { boat, weighedOn } of weighings) {
    if (!LIFT_BOATS.some((name) => name === boat)) continue
    const lift = `${boat} ${weighedOn}`
    expect(lifts.has(lift), `a haul-out for the weighings of ${lift}`).toBe(true)
    lifts.set(lift, lifts.get(lift)! + 1)
  }
  const half = [...lifts].filter(([, count]) => count !== ANODES.length)
  expect(half).toEqual([])
}

/** What is sent again with its key is answered as it was; what was in doubt is written now, or was, but never twice. */
async function expectNothingTwice(service: RunningProcess, sent: Sent, before: Stored): Promise<void> {
  for (const write of sent.acknowledged) {
    const again = await attempt(service, write)
    expect(again).toMatchObject({ status: 201, body: { id: write.answer.id } })
    expect(again?.headers.get('idempotent-replay')).toBe('true')
  }
  let late = 0
  for (const write of sent.inDoubt) late += await writeLate(service, write)
  const after = await readAll(service)
  expectWhole(after)
  const rows = ({ boats, haulOuts, weighings }: Stored) => boats.length + haulOuts.length + weighings.length
  expect(rows(after)).toBe(rows(before) + late)
}

/** @returns how many rows that made: none where the write had been done before the kill */
async function writeLate(service: RunningProcess, write: Write): Promise<number> {
  const again = await attempt(service, write)
  // 409: its key is still held by the request that died, or the boat or the weighing is there already.
  expect([200, 201, 409]).toContain(again?.status)
  const isNew = again?.status === 201 && again.headers.get('idempotent-replay') === null
  if (!isNew) return 0
  return write.path.endsWith('/haul-outs') ? 1 + ANODES.length : 1
}

async function readAll(service: RunningProcess): Promise<Stored> {
  const [boats, weighings, haulOuts] = await Promise.all(
    ['boats', 'weighings', 'haul-outs'].map((rows) => allPages(service, `/v1/${rows}`)),
  )
  return { boats, weighings, haulOuts } as Stored
}

/** All items of a list, however many pages it has. */
export async function allPages(service: RunningProcess, path: string): Promise<unknown[]> {
  const items: unknown[] = []
  for (let cursor: string | null = ''; cursor !== null; ) {
    const { status, body } = await service.send('GET', `${path}?limit=${PAGE}${cursor && `&cursor=${cursor}`}`)
    expect(status).toBe(200)
    items.push(...body.items)
    cursor = body.nextCursor
  }
  return items
}
