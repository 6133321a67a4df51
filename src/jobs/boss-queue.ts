import { type SQL, sql } from 'drizzle-orm'
import PgBoss from 'pg-boss'
import type { Database, Db, SqlExecutor } from '../db/client.js'
import type { JobKey } from '../db/repositories/jobs.js'
import type { JobQueue } from '../services/jobs/job-service.js'

/** The queue's tables live apart from the fleet's. */
const SCHEMA = 'jobs'
const TRIES = 3
const RETRY_DELAY_SECONDS = 2
/** Longer than any fit: by then the heartbeat has long told that a process was lost. */
const EXPIRE_SECONDS = 900
/** The shortest that the queue's library polls well at. */
const POLLING_SECONDS = 0.5

/** What handles a job: whether this was the last try decides if a failure is final. */
export type JobHandler = (job: JobKey, lastTry: boolean) => Promise<void>

/** Jobs over the same PostgreSQL as the fleet, a server or the embedded one. */
export class BossQueue implements JobQueue {
  readonly #boss: PgBoss

  private constructor(boss: PgBoss) {
    this.#boss = boss
  }

  /** @param onError told of what goes wrong between jobs, such as a database that is away for a while */
  static async start(
    database: Database,
    kinds: readonly string[],
    onError: (error: Error) => void,
  ): Promise<BossQueue> {
    const boss = new PgBoss({ db: bossDb(database.executor), schema: SCHEMA })
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
    })
    return new BossQueue(boss)
  }

  async enqueue(tx: Db, kind: string, { organisationId, id }: JobKey): Promise<void> {
    await this.#boss.send(kind, { organisationId, id }, { db: bossDb(executorOf(tx)) })
  }

  async work(kind: string, handler: JobHandler): Promise<void> {
    const options = { pollingIntervalSeconds: POLLING_SECONDS, includeMetadata: true as const, batchSize: 1 }
    await this.#boss.work<JobKey>(kind, options, async ([job]) => {
      if (job !== undefined) await handler(job.data, job.retryCount >= TRIES - 1)
    })
  }

  /** Runs a job at times of a day, in UTC. */
  async schedule(kind: string, cron: string): Promise<void> {
    await this.#boss.schedule(kind, cron, {}, { tz: 'UTC' })
  }

  /** Lets what is running finish, up to a limit. */
  async stop(timeoutMs: number): Promise<void> {
    await this.#boss.stop({ graceful: true, wait: true, timeout: timeoutMs })
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
