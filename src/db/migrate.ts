import { join } from 'node:path'
import type { NodePgDatabase } from 'drizzle-orm/node-postgres'
import { migrate as migrateServer } from 'drizzle-orm/node-postgres/migrator'
import type { PgliteDatabase } from 'drizzle-orm/pglite'
import { migrate as migrateEmbedded } from 'drizzle-orm/pglite/migrator'
import { PROJECT_ROOT } from '../project-root.js'
import type { Database } from './client.js'
import type * as schema from './schema/index.js'

/** Brings the database to the newest schema; several processes may start at once. */
export async function migrateDatabase(database: Database): Promise<void> {
  const options = { migrationsFolder: join(PROJECT_ROOT, 'migrations') }
  await database.withStartLock(() =>
    database.kind === 'server'
      ? migrateServer(database.db as unknown as NodePgDatabase<typeof schema>, options)
      : migrateEmbedded(database.db as unknown as PgliteDatabase<typeof schema>, options),
  )
}
