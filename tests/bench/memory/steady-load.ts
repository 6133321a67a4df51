import type { CompiledProcess } from '../../process/compiled-process.js'
import { HEADERS } from '../http/bench-service.js'
import { haulOutTasks } from '../http/haul-out-tasks.js'
import { logAll } from '../http/haul-outs-part.js'

const DAY_MS = 86_400_000
const SECOND_MS = 1000
const MINUTE_MS = 60_000
/** The boat's dates, and the fleet's refit behind it, follow each. So rarely that the data, and what a fit of them takes, hardly grow. */
const READS_A_HAUL_OUT = 49
const READ = [
  '/v1/boats?sort=name',
  '/v1/forecasts',
  '/v1/desk/boats',
  '/v1/findings',
  '/v1/haul-outs?sort=-hauledOn',
  '/v1/notices',
  '/v1/boats/Boat%201/depletion',
]
/** Lifts are a day apart, the first so long ago that it comes after the fleet's own. */
const FIRST_DAYS_AGO = 160

export interface SteadyLoad {
  readonly databaseUrl: string
  readonly minutes: number
  /** Requests at the most; fewer where an answer takes longer. */
  readonly perSecond: number
}

/** Logs haul-outs and reads pages, one request after the other at an even pace. @returns how many of each */
export async function loadSteadily(
  service: CompiledProcess,
  load: SteadyLoad,
): Promise<{ haulOuts: number; reads: number }> {
  const began = performance.now()
  const endsAt = began + load.minutes * MINUTE_MS
  const done = { haulOuts: 0, reads: 0 }
  const nextTurn = async () => {
    const dueAt = began + ((done.haulOuts + done.reads) * SECOND_MS) / load.perSecond
    await new Promise((resolve) => setTimeout(resolve, dueAt - performance.now()))
    return performance.now() < endsAt
  }
  for (let daysAgo = FIRST_DAYS_AGO; daysAgo >= 0; daysAgo--) {
    const day = new Date(Date.now() - daysAgo * DAY_MS).toISOString().slice(0, 10)
    for (const task of await haulOutTasks(load.databaseUrl, day, false)) {
      await logAll(service, [task], 1)
      done.haulOuts += 1
      for (let read = 0; read < READS_A_HAUL_OUT; read++) {
        if (!(await nextTurn())) return done
        await readPage(service, READ[done.reads % READ.length]!)
        done.reads += 1
      }
    }
  }
  throw new Error('no day is left to log haul-outs on: take more boats')
}

async function readPage({ address }: CompiledProcess, page: string): Promise<void> {
  const answer = await fetch(`${address}${page}`, { headers: HEADERS })
  const said = await answer.text()
  if (!answer.ok) throw new Error(`${page}: ${answer.status} ${said}`)
}
