import { drizzle as drizzleServer } from 'drizzle-orm/node-postgres'
import type { PgDatabase, PgQueryResultHKT } from 'drizzle-orm/pg-core'
import { drizzle as drizzleEmbedded } from 'drizzle-orm/pglite'
import pg from 'pg'
import { claimFolder } from './embedded/claim-folder.js'
import { openEmbedded } from './embedded/open-embedded.js'
import * as schema from './schema/index.js'

/** One type of handle for services, whichever database stands behind it; a transaction is one too. */
export type Db = PgDatabase<PgQueryResultHKT, typeof schema>

/** What the job queue asks of a connection. */
export interface SqlExecutor {
  executeSql(text: string, values?: unknown[]): Promise<{ rows: unknown[] }>
}

export interface Database {
  readonly kind: 'embedded' | 'server'
  readonly db: Db
  readonly executor: SqlExecutor
  /** Holds a lock that other processes wait for: start-up work (migrations) must not run twice at once. */
  withStartLock<T>(work: () => Promise<T>): Promise<T>
  close(): Promise<void>
}

export interface DatabaseConfig {
  /** A PostgreSQL server; without it the embedded database under `dataDir`. */
  readonly databaseUrl?: string | undefined
  readonly dataDir: string
}

// int8 comes as a string from the server's driver and as a number from the embedded one: numbers on both.
pg.types.setTypeParser(20, Number)

export function openDatabase(config: DatabaseConfig): Promise<Database> {
  return config.databaseUrl ? openServer(config.databaseUrl) : openEmbeddedDatabase(config.dataDir)
}

/** Any number, the same in every process: the key of the lock at start. */
const START_LOCK_KEY = 7_203_117

async function openServer(connectionString: string): Promise<Database> {
  const pool = new pg.Pool({ connectionString, max: 10 })
  // A broken idle connection is dropped by the pool; without a listener the event would end the process.
  pool.on('error', () => {})
  return {
    kind: 'server',
    db: drizzleServer(pool, { schema }) as unknown as Db,
    executor: { executeSql: (text, values) => pool.query(text, values) },
    withStartLock: async (work) => {
      const client = await pool.connect()
      try {
        await client.query('select pg_advisory_lock($1)', [START_LOCK_KEY])
        return await work()
      } finally {
        await client.query('select pg_advisory_unlock($1)', [START_LOCK_KEY]).catch(() => {})
        client.release()
      }
    },
    close: () => pool.end(),
  }
}

async function openEmbeddedDatabase(dataDir: string): Promise<Database> {
  const release = claimFolder(dataDir)
  try {
    const lite = await openEmbedded(dataDir)
    return {
      kind: 'embedded',
      db: drizzleEmbedded(lite, { schema }) as unknown as Db,
      executor: {
        executeSql: async (text, values) =>
          values?.length ? lite.query(text, values) : ((await lite.exec(text)).at(-1) ?? { rows: [] }),
      },
      withStartLock: (work) => work(),
      close: async () => {
        await lite.close()
        release()
      },
    }
  } catch (error) {
    release()
    throw error
  }
}
