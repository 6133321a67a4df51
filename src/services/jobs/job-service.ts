import { setTimeout as pause } from 'node:timers/promises'
import type { JobView } from '../../contract/jobs.js'
import type { Db, Handles } from '../../db/client.js'
import { type Acting, inOrganisation } from '../../db/in-organisation.js'
import { outOfService } from '../../db/out-of-service.js'
import {
  beginJob,
  endJob,
  holdQueuedJob,
  insertJob,
  isStillQueued,
  type JobKey,
  type JobOfKind,
  noteHeartbeat,
  noteProgress,
  queuedJobs,
  reclaimLostJobs,
  requeueJob,
} from '../../db/repositories/jobs.js'
import type { OnProgress } from '../model/refit.js'
import type { RefitRequests } from './refit-requests.js'

/** Where jobs wait: within the caller's transaction, so that none outlives a write that was rolled back. */
export interface JobQueue {
  enqueue(tx: Db, kind: string, job: JobKey): Promise<void>
  /**
   * Which of these jobs it has not: neither waiting to be handed out, nor handed out within the last so many seconds. An answer that was lost on
   * its way, or a process that was killed as it came, leaves a job handed out that nobody has begun.
   *
   * @returns their ids
   */
  withoutEntry(kind: string, ids: readonly string[], seconds: number): Promise<ReadonlySet<string>>
}

export const REFIT = 'refit'

/** A running job tells that it lives this often, and counts as lost after this silence; so does one that was handed out and has not begun. */
const HEARTBEAT_MS = 3_000
const LOST_AFTER_SECONDS = 20
/** A job that the database's absence broke off begins again after this pause, and again until it comes to its end. */
const AGAIN_AFTER_MS = 2_000

/** Asks for jobs within the writes that need them, and runs what the queue hands out. */
export class JobService implements RefitRequests {
  readonly #db: Db
  readonly #across: Db
  readonly #queue: JobQueue
  #isStopping = false

  constructor({ db, across }: Handles, queue: JobQueue) {
    this.#db = db
    this.#across = across
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
   * Runs a job that the queue handed out. One that is over already, or runs, is left alone: a queue may hand out twice. On the last
   * try a failure ends the job and is told to whoever follows it; before that it waits for the next try. A database that is away, or
   * whose disk is full, is no failure of the job and takes no try: the job begins again until there is one.
   */
  async run(key: JobKey, lastTry: boolean, work: (onProgress: OnProgress) => Promise<void>): Promise<void> {
    for (let isOurs = false; ; isOurs = true) {
      try {
        return await this.#runOnce(key, lastTry, isOurs, work)
      } catch (error) {
        if (outOfService(error) === undefined || this.#isStopping) throw error
        await pause(AGAIN_AFTER_MS)
      }
    }
  }

  async #runOnce(
    key: JobKey,
    lastTry: boolean,
    isOurs: boolean,
    work: (onProgress: OnProgress) => Promise<void>,
  ): Promise<void> {
    if (!(await this.#in(key, (tx) => beginJob(tx, key, isOurs)))) return
    const heartbeat = setInterval(() => {
      // A beat that fails says nothing: if the database is away, the work itself will tell.
      this.#in(key, (tx) => noteHeartbeat(tx, key)).catch(() => {})
    }, HEARTBEAT_MS)
    try {
      await work((progress, step) => this.#in(key, (tx) => noteProgress(tx, key, progress, step)))
      await this.#in(key, (tx) => endJob(tx, key, null))
    } catch (error) {
      if (this.#isStopping) return await this.#handBack(key)
      if (outOfService(error) !== undefined) throw error
      const reason = error instanceof Error ? error.message : String(error)
      if (lastTry) await this.#in(key, (tx) => endJob(tx, key, reason))
      else await this.#in(key, (tx) => requeueJob(tx, key, reason))
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
   * Queues again what was running in a process that is gone, and what was handed out and never begun.
   *
   * @param silentSeconds after which a job counts as lost; 0 where no other process can be running any
   * @returns how many
   */
  async reclaimLost(silentSeconds = LOST_AFTER_SECONDS): Promise<number> {
    const unbegun = await this.#handedOutUnbegun(silentSeconds)
    return this.#across.transaction(async (transaction) => {
      const tx = transaction as unknown as Db
      const lost = await reclaimLostJobs(tx, silentSeconds)
      for (const job of unbegun) if (await isStillQueued(tx, job)) lost.push(job)
      for (const { kind, ...key } of lost) await this.#queue.enqueue(tx, kind, key)
      return lost.length
    })
  }

  async #handedOutUnbegun(seconds: number): Promise<JobOfKind[]> {
    const queued = await queuedJobs(this.#across)
    const lost: JobOfKind[] = []
    for (const kind of new Set(queued.map((job) => job.kind))) {
      const jobs = queued.filter((job) => job.kind === kind)
      const ids = jobs.map(({ id }) => id)
      const without = await this.#queue.withoutEntry(kind, ids, seconds)
      lost.push(...jobs.filter(({ id }) => without.has(id)))
    }
    return lost
  }

  async #handBack(key: JobKey): Promise<void> {
    await this.#in(key, async (tx) => {
      await requeueJob(tx, key, 'the service was stopped')
      await this.#queue.enqueue(tx, REFIT, key)
    })
  }
  #in<T>({ organisationId }: JobKey, work: (tx: Db) => Promise<T>): Promise<T> {
    return inOrganisation(this.#db, { organisationId, actor: 'job' }, work)
  }
}
