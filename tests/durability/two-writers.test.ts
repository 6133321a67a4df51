import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { createServerDatabase } from '../database/test-database.js'
import { KEY, type ProcessAnswer, type RunningProcess, startProcess } from '../process/running-process.js'
import { ANODES, addBoats, LIFT_BOATS } from './writers.js'

const LIMIT_MS = 300_000
const CHANGES_EACH = 20
const LIFTS = 12
const FIRST_YEAR = 1900
const NEW_MASS_G = 5000

const database = await createServerDatabase()

/** A key of its own, by a server of its own. */
interface Person {
  send(method: string, path: string, body?: unknown, headers?: Record<string, string>): Promise<ProcessAnswer>
}

/** Each lift two grams lighter than the one before. */
const dayOf = (lift: number) => `2013-${String(lift + 1).padStart(2, '0')}-15`
const massAt = (lift: number) => NEW_MASS_G - 2 * (lift + 1)
const boat = `/v1/boats/${encodeURIComponent(LIFT_BOATS[0])}`

describe.skipIf(database === undefined)('two who write at one boat by two servers', () => {
  const folder = mkdtempSync(join(tmpdir(), 'anode-ledger-two-writers-'))
  const servers: RunningProcess[] = []
  const people: Person[] = []

  beforeAll(async () => {
    for (const name of ['Ada', 'Bea']) {
      const server = await startProcess({
        DATABASE_URL: database?.url ?? '',
        DATA_DIR: join(folder, name),
        RATE_LIMIT: '0',
        ADMIN_API_KEY: KEY,
      })
      servers.push(server)
      const { status, body } = await server.send('POST', '/v1/api-keys', { name, role: 'manager' })
      expect(status).toBe(201)
      const own = { authorization: `Bearer ${body.secret}` }
      people.push({ send: (method, path, content, more) => server.send(method, path, content, { ...more, ...own }) })
    }
    await addBoats(servers[0]!)
  }, LIMIT_MS)
  afterAll(async () => {
    for (const server of servers) await server.stop('SIGKILL')
    await database?.drop()
    rmSync(folder, { recursive: true, force: true })
  })

  /** Reads, changes and writes back, each person so many times; whoever is told that the row moved on begins that change again. */
  async function changeAtOnce(path: string, change: (row: Row) => object): Promise<{ stale: number }> {
    let stale = 0
    const changing = people.map(async ({ send }) => {
      for (let done = 0; done < CHANGES_EACH; ) {
        const read = await send('GET', path)
        const answer = await send('PATCH', path, change(read.body), { 'if-match': read.headers.get('etag') ?? '' })
        expect([200, 412], JSON.stringify(answer.body)).toContain(answer.status)
        if (answer.status === 200) done++
        else {
          expect(answer.body).toMatchObject({ status: 412, detail: expect.stringContaining('read it again') })
          stale++
        }
      }
    })
    await Promise.all(changing)
    return { stale }
  }

  it('lose no change of the boat, and are told when it has moved on', { timeout: LIMIT_MS }, async () => {
    const [{ send }] = people as [Person]
    const { body: before } = await send('PATCH', boat, { launchedYear: FIRST_YEAR }, { 'if-match': '"1"' })
    const { stale } = await changeAtOnce(boat, ({ launchedYear }) => ({ launchedYear: launchedYear + 1 }))
    const { body: after } = await send('GET', boat)
    expect(after.launchedYear).toBe(FIRST_YEAR + 2 * CHANGES_EACH)
    expect(after.version).toBe(before.version + 2 * CHANGES_EACH)
    expect(stale).toBeGreaterThan(0)
    console.log(`${2 * CHANGES_EACH} changes of a boat by two, none lost; ${stale} told that it had moved on`)
  })

  it('lose no correction of a weighing, and its history adds up', { timeout: LIMIT_MS }, async () => {
    const [{ send }] = people as [Person]
    const made = await send('POST', `${boat}/anodes/${encodeURIComponent(ANODES[0])}/weighings`, {
      weighedOn: '2012-06-01',
      massG: NEW_MASS_G,
    })
    expect(made.status, JSON.stringify(made.body)).toBe(201)
    const path = `/v1/weighings/${made.body.id}`
    const { stale } = await changeAtOnce(path, ({ massG }) => ({
      massG: massG - 1,
      reason: 'read from the wrong line',
    }))
    expect(stale).toBeGreaterThan(0)
    expect((await send('GET', path)).body.massG).toBe(NEW_MASS_G - 2 * CHANGES_EACH)
    const { body: history } = await send('GET', `${path}/history`)
    const changes: Change[] = history.items.flatMap((entry: { changes?: Change[] }) => entry.changes ?? [])
    const masses = changes.filter(({ field, from }) => field === 'massG' && from !== null)
    expect(masses).toHaveLength(2 * CHANGES_EACH)
    expect(masses.reduce((sum, { from, to }) => sum + (from! - to), 0)).toBe(2 * CHANGES_EACH)
  })

  it('make one haul-out of what both log of a day, and one of two who say different things is refused', {
    timeout: LIMIT_MS,
  }, async () => {
    const [hull1, hull2, rudder, shaft] = ANODES
    const parts = [
      [hull1, hull2, shaft],
      [rudder, shaft],
    ]
    for (let lift = 0; lift < LIFTS; lift++) {
      const hauledOn = dayOf(lift)
      const weighed = (anode: string, massG: number) => ({ anode, massG })
      // Of the shaft both say something, and not the same.
      const answers = await Promise.all(
        people.map(({ send }, index) => {
          const weighings = parts[index]!.map((anode) => weighed(anode, massAt(lift) - (anode === shaft ? index : 0)))
          return send('POST', `${boat}/haul-outs`, { hauledOn, weighings })
        }),
      )
      const statuses = answers.map(({ status }) => status)
      expect(statuses.toSorted(), JSON.stringify(answers.map(({ body }) => body))).toEqual([201, 409])
      // The one who was refused leaves the shaft out: nothing of theirs had been kept.
      const late = statuses.indexOf(409)
      const rest = parts[late]!.filter((anode) => anode !== shaft).map((anode) => weighed(anode, massAt(lift)))
      const added = await people[late]!.send('POST', `${boat}/haul-outs`, { hauledOn, weighings: rest })
      expect(added.status, JSON.stringify(added.body)).toBe(200)
      expect(added.body.weighings).toHaveLength(ANODES.length)
      const mass = added.body.weighings.reduce((sum: number, { massG }: { massG: number }) => sum + massG, 0)
      expect(mass).toBe(ANODES.length * massAt(lift) - (late === 0 ? 1 : 0))
    }
  })

  it('replace an anode once, and what was fitted is what was removed and what is there', {
    timeout: LIMIT_MS,
  }, async () => {
    const fitted = new Map<number, string>()
    for (let lift = 0; lift < LIFTS; lift++) {
      const rudder = (await anodesOf(boat)).find(
        ({ position, removedOn }) => position === 'rudder' && removedOn === null,
      )
      const answers = await Promise.all(
        people.map(({ send }, index) =>
          send('POST', `${boat}/haul-outs`, {
            hauledOn: `2014-${String(lift + 1).padStart(2, '0')}-15`,
            weighings: [
              {
                anode: rudder!.name,
                massG: 4000,
                replacedBy: {
                  name: `rudder ${lift} ${index}`,
                  alloy: 'zinc',
                  grossMassG: NEW_MASS_G + index,
                  coreMassG: 80,
                },
              },
            ],
          }),
        ),
      )
      const statuses = answers.map(({ status }) => status)
      expect(statuses.toSorted(), JSON.stringify(answers.map(({ body }) => body))).toEqual([201, 409])
      fitted.set(lift, `rudder ${lift} ${statuses.indexOf(201)}`)
    }
    const anodes = await anodesOf(boat)
    expect(anodes).toHaveLength(ANODES.length + LIFTS)
    for (const position of ANODES) {
      expect(anodes.filter((each) => each.position === position && each.removedOn === null)).toHaveLength(1)
    }
    expect(anodes.filter(({ name }) => [...fitted.values()].includes(name))).toHaveLength(LIFTS)
    const mass = (some: readonly Anode[]) => some.reduce((sum, { grossMassG }) => sum + grossMassG, 0)
    const there = anodes.filter(({ removedOn }) => removedOn === null)
    const removed = anodes.filter(({ removedOn }) => removedOn !== null)
    expect(removed).toHaveLength(LIFTS)
    const second = [...fitted.values()].filter((name) => name.endsWith(' 1')).length
    expect(mass(there) + mass(removed)).toBe((ANODES.length + LIFTS) * NEW_MASS_G + second)
  })

  async function anodesOf(path: string): Promise<Anode[]> {
    const { status, body } = await people[0]!.send('GET', `${path}/anodes?limit=200`)
    expect(status).toBe(200)
    return body.items
  }
})

interface Row {
  readonly launchedYear: number
  readonly massG: number
}

interface Change {
  readonly field: string
  readonly from: number | null
  readonly to: number
}

interface Anode {
  readonly name: string
  readonly position: string
  readonly removedOn: string | null
  readonly grossMassG: number
}
