import type { PGlite } from '@electric-sql/pglite'
import { drizzle as drizzleServer } from 'drizzle-orm/node-postgres'
import type { PgDatabase, PgQueryResultHKT } from 'drizzle-orm/pg-core'
import { drizzle as drizzleEmbedded } from 'drizzle-orm/pglite'
import pg from 'pg'
import { StatementWatch } from '../telemetry/statement-watch.js'
import { type MostConnections, USUAL_CONNECTIONS } from './connections.js'
import { asRole } from './embedded/as-role.js'
import { claimFolder } from './embedded/claim-folder.js'
import { openEmbedded } from './embedded/open-embedded.js'
import { giveBackUnbegun } from './give-back-unbegun.js'
import { DATABASE_ROLES, type DatabaseRole, withRole } from './roles.js'
import * as schema from './schema/index.js'
import { SilentConnections } from './silent-connections.js'
import { SwiftClient } from './swift-client.js'
import { watchPool } from './watched-pool.js'

/** One type of handle for services, whichever database stands behind it; a transaction is one too. */
export type Db = PgDatabase<PgQueryResultHKT, typeof schema>

/** What the job queue asks of a connection. */
export interface SqlExecutor {
  executeSql(text: string, values?: unknown[]): Promise<{ rows: unknown[] }>
}

export interface Database {
  readonly kind: 'embedded' | 'server'
  /** As whoever connected, whom nothing holds back: for migrations, and for backups of all rows, alone. */
  readonly db: Db
  /** What services work with: it sees the rows of the organisation that `inOrganisation` names, and none outside of it. */
  readonly service: Db
  /** For what is by nature done for all organisations at once; it sees the few tables that this needs. */
  readonly across: Db
  /** As whoever connected: the queue makes its own tables. */
  readonly executor: SqlExecutor
  /** Holds a lock that other processes wait for: start-up work (migrations) must not run twice at once. */
  withStartLock<T>(work: () => Promise<T>): Promise<T>
  close(): Promise<void>
}

/** What services with work of both kinds are given of a database: for one organisation at a time, and across them. */
export interface Handles {
  readonly db: Db
  readonly across: Db
}

export interface DatabaseConfig {
  /** A PostgreSQL server; without it the embedded database under `dataDir`. */
  readonly databaseUrl?: string | undefined
  readonly dataDir: string
  readonly connections?: MostConnections | undefined
}

/** Tells nobody of slow statements. */
const UNTOLD = new StatementWatch()

// int8 comes as a string from the server's driver and as a number from the embedded one: numbers on both.
pg.types.setTypeParser(20, Number)

/** @param watch times each statement; in the embedded database those of the services */
export function openDatabase(config: DatabaseConfig, watch: StatementWatch = UNTOLD): Promise<Database> {
  const { databaseUrl, dataDir, connections = USUAL_CONNECTIONS } = config
  return databaseUrl ? openServer(databaseUrl, connections, watch) : openEmbeddedDatabase(dataDir, watch)
}

/** Any number, the same in every process: the key of the lock at start. */
const START_LOCK_KEY = 7_203_117

/**
 * For a new connection to be there, or one of the pool to be free: else whoever asks is told that the database does not answer. Common
 * practice; of transactions of some 5 ms each connection does 2,000 in that time.
 */
const CONNECTION_LIMIT_MS = 10_000
/**
 * An idle connection is probed after this time, and each second from then on; it is given up after ten probes without an answer (Node's
 * `socket.setKeepAlive`). Well below the minutes after which firewalls commonly forget a connection that is not used.
 */
const KEEP_ALIVE_AFTER_MS = 10_000
const LIMITS = {
  connectionTimeoutMillis: CONNECTION_LIMIT_MS,
  keepAlive: true,
  keepAliveInitialDelayMillis: KEEP_ALIVE_AFTER_MS,
}

async function openServer(connectionString: string, most: MostConnections, watch: StatementWatch): Promise<Database> {
  const silent = new SilentConnections(connectionString)
  const open = (name: keyof MostConnections, role?: DatabaseRole) => {
    const pool = openPool(connectionString, most[name], role)
    watchPool(pool, name, watch)
    silent.watch(pool)
    return pool
  }
  const pool = open('own')
  const service = open('service', DATABASE_ROLES.service)
  const across = open('across', DATABASE_ROLES.across)
  return {
    kind: 'server',
    db: serverHandle(pool),
    service: serverHandle(service),
    across: serverHandle(across),
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
    close: async () => {
      await Promise.all([service.end(), across.end(), pool.end()]).finally(() => silent.stop())
    },
  }
}

function openPool(address: string, max: number, role?: DatabaseRole): pg.Pool {
  const ofRole = role && { connectionString: withRole(address, role), verify: hasRole(role), Client: SwiftClient }
  const pool = new pg.Pool({ connectionString: address, max, ...LIMITS, ...ofRole })
  // A broken idle connection is dropped by the pool; without a listener the event would end the process.
  pool.on('error', () => {})
  // The same for one that is in use: its query fails, and says why.
  pool.on('connect', (client) => client.on('error', () => {}))
  giveBackUnbegun(pool)
  return pool
}

/** Holds each new connection to its role: a pooler between may drop what the address asks for, and then there must be no connection. */
function hasRole(role: DatabaseRole): NonNullable<pg.PoolConfig['verify']> {
  const refusal = `connections do not have the role ${role}: what lies between here and the server drops it (docs/scale.md, poolers)`
  return (client, done) => {
    client.query<{ role: string }>('select current_user::text as role').then(
      ({ rows }) => done(rows[0]?.role === role ? undefined : new Error(refusal)),
      (error: Error) => done(error),
    )
  }
}

const serverHandle = (pool: pg.Pool) => drizzleServer(pool, { schema }) as unknown as Db

/** The handles of an embedded database, which has one connection: each takes its role on for each transaction. */
export function embeddedHandles(
  lite: PGlite,
  watch: StatementWatch = UNTOLD,
): Pick<Database, 'db' | 'service' | 'across' | 'executor'> {
  const handle = (client: PGlite) => drizzleEmbedded({ client, schema }) as unknown as Db
  return {
    db: handle(lite),
    service: handle(asRole(lite, DATABASE_ROLES.service, watch)),
    across: handle(asRole(lite, DATABASE_ROLES.across, watch)),
    executor: {
      executeSql: async (text, values) =>
        values?.length ? lite.query(text, values) : ((await lite.exec(text)).at(-1) ?? { rows: [] }),
    },
  }
}

async function openEmbeddedDatabase(dataDir: string, watch: StatementWatch): Promise<Database> {
  const release = claimFolder(dataDir)
  try {
    const lite = await openEmbedded(dataDir)
    return {
      kind: 'embedded',
      ...embeddedHandles(lite, watch),
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
