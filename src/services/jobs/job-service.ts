import type { JobView } from '../../contract/jobs.js'
import type { Db } from '../../db/client.js'
import type { Acting } from '../../db/in-organisation.js'
import {
  beginJob,
  endJob,
  holdQueuedJob,
  insertJob,
  type JobKey,
  noteHeartbeat,
  noteProgress,
  reclaimLostJobs,
  requeueJob,
} from '../../db/repositories/jobs.js'
import type { OnProgress } from '../model/refit.js'
import type { RefitRequests } from './refit-requests.js'

/** Where jobs wait: within the caller's transaction, so that none outlives a write that was rolled back. */
export interface JobQueue {
  enqueue(tx: Db, kind: string, job: JobKey): Promise<void>
}

export const REFIT = 'refit'

/** A running job tells that it lives this often, and counts as lost after this silence. */
const HEARTBEAT_MS = 3_000
const LOST_AFTER_SECONDS = 20

/** Asks for jobs within the writes that need them, and runs what the queue hands out. */
export class JobService implements RefitRequests {
  readonly #db: Db
  readonly #queue: JobQueue
  #isStopping = false

  constructor(db: Db, queue: JobQueue) {
    this.#db = db
    this.#queue = queue
  }

  async request(tx: Db, { organisationId }: Acting): Promise<JobView> {
    const waiting = await holdQueuedJob(tx, organisationId, REFIT)
    if (waiting !== undefined) return waiting
    const job = await insertJob(tx, organisationId, REFIT)
    await this.#queue.enqueue(tx, REFIT, { organisationId, id: job.id })
    return job
  }

  /**
   * Runs a job that the queue handed out. One that is over already is left alone: a queue may hand out twice. On the last
   * try a failure ends the job and is told to whoever follows it; before that it waits for the next try.
   */
  async run(key: JobKey, lastTry: boolean, work: (onProgress: OnProgress) => Promise<void>): Promise<void> {
    if (!(await beginJob(this.#db, key))) return
    const heartbeat = setInterval(() => {
      // A beat that fails says nothing: if the database is away, the work itself will tell.
      noteHeartbeat(this.#db, key).catch(() => {})
    }, HEARTBEAT_MS)
    try {
      await work((progress, step) => noteProgress(this.#db, key, progress, step))
      await endJob(this.#db, key, null)
    } catch (error) {
      if (this.#isStopping) return await this.#handBack(key)
      const reason = error instanceof Error ? error.message : String(error)
      if (lastTry) await endJob(this.#db, key, reason)
      else await requeueJob(this.#db, key, reason)
      throw error
    } finally {
      clearInterval(heartbeat)
    }
  }

  /** From here on a job that breaks off was broken off by us: it waits for the next process, and no try is counted. */
  beginStop(): void {
    this.#isStopping = true
  }

  /**
   * Queues again what was running in a process that is gone.
   *
   * @param silentSeconds after which a job counts as lost; 0 where no other process can be running any
   * @returns how many
   */
  reclaimLost(silentSeconds = LOST_AFTER_SECONDS): Promise<number> {
    return this.#db.transaction(async (transaction) => {
      const tx = transaction as unknown as Db
      const lost = await reclaimLostJobs(tx, silentSeconds)
      for (const { kind, ...key } of lost) await this.#queue.enqueue(tx, kind, key)
      return lost.length
    })
  }

  async #handBack(key: JobKey): Promise<void> {
    await this.#db.transaction(async (transaction) => {
      const tx = transaction as unknown as Db
      await requeueJob(tx, key, 'the service was stopped')
      await this.#queue.enqueue(tx, REFIT, key)
    })
  }
}
