import type { Database } from '../db/client.js'
import { inOrganisation } from '../db/in-organisation.js'
import { idsOfOrganisations } from '../db/repositories/organisations.js'
import { JobService, REFIT } from '../services/jobs/job-service.js'
import type { RefitRequests } from '../services/jobs/refit-requests.js'
import type { ComputeForecasts } from '../services/model/compute-forecasts.js'
import { RefitService } from '../services/model/refit.js'
import { BossQueue } from './boss-queue.js'
import { ForecastThread } from './forecast-thread.js'

/** What every process has: where jobs are asked for, and a thread that the engine runs on. */
export interface Asking {
  readonly refits: RefitRequests
  readonly engine: ComputeForecasts
  stop(): Promise<void>
}

/** The work beside the requests as well: jobs that are asked for here or elsewhere are done here. */
export interface Background extends Asking {
  /** Has more done in the small hours; to be said before the first night, by whoever has the means. */
  everyNight(work: () => Promise<unknown>): void
  /** Has more done each hour, by one of the processes. */
  everyHour(work: () => Promise<unknown>): void
}

/** Forecasts are as of a day: every organisation's are issued anew in the small hours. */
const NIGHTLY = 'nightly'
const NIGHTLY_CRON = '10 2 * * *'
/** Letters are decided through the day: mornings come at different hours, and a date that moved is told the same day. */
const HOURLY = 'hourly'
const HOURLY_CRON = '7 * * * *'
const KINDS = [REFIT, NIGHTLY, HOURLY]
/** How often lost jobs are looked for: with the silence that makes one lost, they go on within half a minute. */
const SWEEP_MS = 10_000
const STOP_LIMIT_MS = 10_000

export interface BackgroundOptions {
  readonly database: Database
  readonly now: () => Date
  readonly onError: (error: Error) => void
}

/** Starts what a process needs that does no jobs itself: it adds them to the queue, for workers elsewhere. */
export async function startAsking({ database, onError }: Omit<BackgroundOptions, 'now'>): Promise<Asking> {
  const queue = await BossQueue.startAdding(database, KINDS, onError)
  const engine = new ForecastThread()
  return {
    refits: new JobService({ db: database.service, across: database.across }, queue),
    engine,
    stop: async () => {
      await engine.close()
      await queue.stop(STOP_LIMIT_MS)
    },
  }
}

/** Starts the queue and its workers. A job that a lost process left behind is taken up again. */
export async function startBackground({ database, now, onError }: BackgroundOptions): Promise<Background> {
  const { service: db, across } = database
  const queue = await BossQueue.start(database, KINDS, onError)
  const engine = new ForecastThread()
  const jobs = new JobService({ db, across }, queue)
  const refit = new RefitService(db, engine, now)
  const sweep = () => jobs.reclaimLost().catch(onError)
  // Nobody else has the embedded database open: what was running there has lost its process.
  await (database.kind === 'embedded' ? jobs.reclaimLost(0) : sweep())
  await queue.work(REFIT, (key, lastTry) =>
    jobs.run(key, lastTry, (onProgress) => refit.refit(key.organisationId, onProgress)),
  )
  const chores: (() => Promise<unknown>)[] = []
  const hourly: (() => Promise<unknown>)[] = []
  await queue.work(NIGHTLY, async () => {
    for (const chore of chores) await chore()
    for (const organisationId of await idsOfOrganisations(across)) {
      const acting = { organisationId, actor: 'nightly' }
      await inOrganisation(db, acting, (tx) => jobs.request(tx, acting))
    }
  })
  await queue.schedule(NIGHTLY, NIGHTLY_CRON)
  await queue.work(HOURLY, async () => {
    for (const chore of hourly) await chore()
  })
  await queue.schedule(HOURLY, HOURLY_CRON)
  const sweeping = setInterval(sweep, SWEEP_MS)
  return {
    refits: jobs,
    engine,
    everyNight: (work) => {
      chores.push(work)
    },
    everyHour: (work) => {
      hourly.push(work)
    },
    stop: async () => {
      clearInterval(sweeping)
      jobs.beginStop()
      const drained = queue.stop(STOP_LIMIT_MS)
      // A fit may take longer than anybody waits: it is broken off, and its job goes back to the queue.
      await engine.close()
      await drained
    },
  }
}
