import { randomUUID } from 'node:crypto'
import type { ProcessAnswer, RunningProcess } from '../process/running-process.js'

/** A write as its sender remembers it: with its key it can be sent again. */
export interface Write {
  readonly path: string
  readonly body: Readonly<Record<string, unknown>>
  readonly key: string
}

export interface Acknowledged extends Write {
  // biome-ignore lint/suspicious/noExplicitAny: what the service answered, as it answered it
  readonly answer: any
}

/** What was sent in one life of the service. */
export interface Sent {
  readonly acknowledged: readonly Acknowledged[]
  /** Sent, and the service died before it answered: written or not, nobody knows. */
  readonly inDoubt: readonly Write[]
}

/** Makes the n-th write of a writer, whatever became of the others. */
export type Writer = (n: number) => Omit<Write, 'key'>

export const LIFT_BOATS = ['Lift 1', 'Lift 2'] as const
const SCALE_BOATS = ['Scale 1', 'Scale 2'] as const
export const ANODES = ['hull 1', 'hull 2', 'rudder', 'shaft'] as const
const NEW_MASS_G = 5000
const DAY_MS = 86_400_000
const FITTED_ON = '2012-01-01'

const dayAfterFitting = (n: number) => new Date(Date.parse(FITTED_ON) + (n + 1) * DAY_MS).toISOString().slice(0, 10)
const massAfter = (n: number) => NEW_MASS_G - n
const inPath = encodeURIComponent

/** Two of each: boats, weighings one by one, and haul-outs with a weighing of each anode. */
export const WRITERS: readonly Writer[] = [
  ...['port', 'starboard'].map(
    (side): Writer =>
      (n) => ({ path: '/v1/boats', body: { name: `New ${side} ${n}` } }),
  ),
  ...SCALE_BOATS.map(
    (boat): Writer =>
      (n) => {
        const anode = ANODES[n % ANODES.length]!
        return {
          path: `/v1/boats/${inPath(boat)}/anodes/${inPath(anode)}/weighings`,
          body: { weighedOn: dayAfterFitting(n), massG: massAfter(n) },
        }
      },
  ),
  ...LIFT_BOATS.map(
    (boat): Writer =>
      (n) => ({
        path: `/v1/boats/${inPath(boat)}/haul-outs`,
        body: { hauledOn: dayAfterFitting(n), weighings: ANODES.map((anode) => ({ anode, massG: massAfter(n) })) },
      }),
  ),
]

/** The boats that the writers weigh at. */
export async function addBoats(service: RunningProcess): Promise<void> {
  for (const name of [...LIFT_BOATS, ...SCALE_BOATS]) {
    await expectCreated(service.send('POST', '/v1/boats', { name }))
    for (const anode of ANODES) {
      const piece = {
        name: anode,
        position: anode,
        alloy: 'zinc',
        grossMassG: NEW_MASS_G,
        coreMassG: 80,
        fittedOn: FITTED_ON,
      }
      await expectCreated(service.send('POST', `/v1/boats/${inPath(name)}/anodes`, piece))
    }
  }
}

async function expectCreated(sent: Promise<ProcessAnswer>): Promise<void> {
  const { status, body } = await sent
  if (status !== 201) throw new Error(`answered ${status}: ${JSON.stringify(body)}`)
}

/** Counts on over all lives: a write that is in doubt is never made a second time by accident. */
export class Crew {
  readonly #made = WRITERS.map(() => 0)

  /** All write at once, each one thing after the other, until `enough` are acknowledged: in that instant the service dies. */
  async writeUntilKilled(service: RunningProcess, enough: number): Promise<Sent> {
    const sent = { acknowledged: [] as Acknowledged[], inDoubt: [] as Write[] }
    const killed = { yet: false }
    const write = async (writer: Writer, index: number) => {
      while (!killed.yet) {
        const one = { ...writer(this.#made[index]!++), key: randomUUID() }
        const answer = await attempt(service, one)
        if (answer === undefined) return void sent.inDoubt.push(one)
        if (answer.status !== 201)
          throw new Error(`${one.path} answered ${answer.status}: ${JSON.stringify(answer.body)}`)
        sent.acknowledged.push({ ...one, answer: answer.body })
        if (sent.acknowledged.length < enough) continue
        killed.yet = true
        service.process.kill('SIGKILL')
      }
    }
    await Promise.all(WRITERS.map(write))
    await service.stop('SIGKILL')
    return sent
  }
}

/** Sends a write, or sends it again; undefined when no answer came. */
export async function attempt(service: RunningProcess, { path, body, key }: Write): Promise<ProcessAnswer | undefined> {
  try {
    return await service.send('POST', path, body, { 'idempotency-key': key })
  } catch (error) {
    if (error instanceof SyntaxError || error instanceof TypeError) return undefined
    throw error
  }
}
