import { SpanKind } from '@opentelemetry/api'
import { type SQL, sql } from 'drizzle-orm'
import PgBoss from 'pg-boss'
import type { Database, Db, SqlExecutor } from '../db/client.js'
import type { JobKey } from '../db/repositories/jobs.js'
import { DATABASE_ROLES } from '../db/roles.js'
import type { JobQueue } from '../services/jobs/job-service.js'
import { askedBy, runAskedBy } from '../telemetry/asked-by.js'
import { noteJob, type Outcome } from '../telemetry/process-figures.js'
import { carriedTrace, inSpan, traceFrom } from '../telemetry/spans.js'
import { WaitingExecutor } from './waiting-executor.js'

/** The queue's tables live apart from the fleet's. */
const SCHEMA = 'jobs'
const TRIES = 3
const RETRY_DELAY_SECONDS = 2
/** Longer than any fit: by then the heartbeat has long told that a process was lost. */
const EXPIRE_SECONDS = 900
/** The shortest that the queue's library polls well at. */
const POLLING_SECONDS = 0.5

/** Services add jobs within their own transactions, in their own roles; they read none. */
const ROLES = Object.values(DATABASE_ROLES).join(', ')
const LET_SERVICES_ADD = `grant usage on schema ${SCHEMA} to ${ROLES};
  grant insert, select (id) on ${SCHEMA}.job to ${ROLES};
  grant select on ${SCHEMA}.queue to ${ROLES}`

/** The library's states in order: created, retry, active, and those of what is over. */
const WITHOUT_ENTRY = `select asked.id from unnest($2::text[]) as asked(id) where not exists (
  select from ${SCHEMA}.job where name = $1 and data->>'id' = asked.id
    and (state < 'active' or (state = 'active' and abs(extract(epoch from now() - started_on)) < $3::float8)))`

/** What waits in the queue: whose job, and what it belongs to. What goes by the clock has none of it. */
interface QueuedJob extends JobKey {
  readonly requestId?: string | undefined
  readonly trace?: Record<string, string>
}

/** What handles a job: whether this was the last try decides if a failure is final. */
export type JobHandler = (job: JobKey, lastTry: boolean) => Promise<void>

interface QueueOptions {
  readonly onError: (error: Error) => void
  /** Whether it tidies the queue's tables, and whether it keeps the times of scheduled jobs; both unless said otherwise. */
  readonly supervise?: boolean
  readonly schedule?: boolean
}

/** Jobs over the same PostgreSQL as the fleet, a server or the embedded one. */
export class BossQueue implements JobQueue {
  readonly #boss: PgBoss
  readonly #executor: WaitingExecutor

  private constructor(boss: PgBoss, executor: WaitingExecutor) {
    this.#boss = boss
    this.#executor = executor
  }

  /**
   * For a process that works: beside its jobs it keeps the times of scheduled ones, and tidies the queue's tables.
   *
   * @param onError told of what goes wrong between jobs, such as a database that is away for a while
   */
  static start(database: Database, kinds: readonly string[], onError: (error: Error) => void): Promise<BossQueue> {
    return BossQueue.#open(database, kinds, { onError })
  }

  /** For a process that only adds jobs, and leaves all else to those that work. */
  static startAdding(
    database: Database,
    kinds: readonly string[],
    onError: (error: Error) => void,
  ): Promise<BossQueue> {
    return BossQueue.#open(database, kinds, { onError, supervise: false, schedule: false })
  }

  static async #open(
    database: Database,
    kinds: readonly string[],
    { onError, ...duties }: QueueOptions,
  ): Promise<BossQueue> {
    const executor = new WaitingExecutor(database.executor, onError)
    const boss = new PgBoss({ db: bossDb(executor), schema: SCHEMA, ...duties })
    boss.on('error', onError)
    // Making a queue adds a partition to the table of jobs: two processes that do it at once lock each other out.
    await database.withStartLock(async () => {
      await boss.start()
      for (const kind of kinds) {
        await boss.createQueue(kind, {
          name: kind,
          retryLimit: TRIES - 1,
          retryDelay: RETRY_DELAY_SECONDS,
          expireInSeconds: EXPIRE_SECONDS,
        })
      }
      await database.executor.executeSql(LET_SERVICES_ADD)
    })
    executor.beginWaiting()
    return new BossQueue(boss, executor)
  }

  async enqueue(tx: Db, kind: string, { organisationId, id }: JobKey): Promise<void> {
    const data: QueuedJob = { organisationId, id, requestId: askedBy().requestId, trace: carriedTrace() }
    await this.#boss.send(kind, data, { db: bossDb(executorOf(tx)) })
  }

  async withoutEntry(kind: string, ids: readonly string[], seconds: number): Promise<ReadonlySet<string>> {
    const { rows } = await this.#executor.executeSql(WITHOUT_ENTRY, [kind, ids, seconds])
    return new Set((rows as { id: string }[]).map(({ id }) => id))
  }

  async work(kind: string, handler: JobHandler): Promise<void> {
    const options = { pollingIntervalSeconds: POLLING_SECONDS, includeMetadata: true as const, batchSize: 1 }
    await this.#boss.work<QueuedJob>(kind, options, async ([job]) => {
      if (job !== undefined) await handle(kind, job.data, () => handler(job.data, job.retryCount >= TRIES - 1))
    })
  }

  /** Runs a job at times of a day, in UTC. */
  async schedule(kind: string, cron: string): Promise<void> {
    await this.#boss.schedule(kind, cron, {}, { tz: 'UTC' })
  }

  /** Lets what is running finish, up to a limit. */
  async stop(timeoutMs: number): Promise<void> {
    this.#executor.endWaiting()
    await this.#boss.stop({ graceful: true, wait: true, timeout: timeoutMs })
  }
}

/** A job is a part of the trace of the request that asked for it, however much later it is done; measured, too. */
async function handle(kind: string, { id, requestId, trace = {} }: QueuedJob, work: () => Promise<void>) {
  const startedAt = performance.now()
  const note = (outcome: Outcome) => noteJob(kind, outcome, (performance.now() - startedAt) / 1000)
  const span = { kind: SpanKind.CONSUMER, attributes: { 'anode_ledger.job.kind': kind }, parent: traceFrom(trace) }
  try {
    await runAskedBy({ requestId, jobId: id }, () => inSpan(`job ${kind}`, span, work))
    note('done')
  } catch (error) {
    note('failed')
    throw error
  }
}

function bossDb(executor: SqlExecutor): PgBoss.Db {
  return { executeSql: (text, values) => executor.executeSql(text, values) as Promise<{ rows: unknown[] }> }
}

/** The library writes its own statements with numbered parameters; within a transaction they go through its handle. */
function executorOf(tx: Db): SqlExecutor {
  return {
    executeSql: async (text, values = []) => (await tx.execute(numbered(text, values))) as { rows: unknown[] },
  }
}

function numbered(text: string, values: readonly unknown[]): SQL {
  const chunks = text.split(/\$(\d+)/)
  return sql.join(
    chunks.map((chunk, index) => (index % 2 === 0 ? sql.raw(chunk) : sql.param(values[Number(chunk) - 1]))),
  )
}
