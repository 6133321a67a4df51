import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { NodePgDatabase } from 'drizzle-orm/node-postgres'
import { migrate as migrateServer } from 'drizzle-orm/node-postgres/migrator'
import type { PgliteDatabase } from 'drizzle-orm/pglite'
import { migrate as migrateEmbedded } from 'drizzle-orm/pglite/migrator'
import { PROJECT_ROOT } from '../project-root.js'
import type { Database } from './client.js'
import type * as schema from './schema/index.js'

const MIGRATIONS = join(PROJECT_ROOT, 'migrations')

/** Brings the database to the newest schema; several processes may start at once. */
export function migrateDatabase(database: Database): Promise<void> {
  return migrateFrom(database, MIGRATIONS)
}

/**
 * Brings an empty database to an earlier schema: that of rows which were kept then.
 *
 * @param newest when the newest migration to run was written [ms since 1970]
 * @throws Error when there is no migration of that moment: the rows are of a newer version
 */
export async function migrateUntil(database: Database, newest: number): Promise<void> {
  const journal = readJournal()
  if (!journal.entries.some(({ when }) => when === newest)) {
    throw new Error('the backup is of a newer version of the service than this one: restore it with that version')
  }
  const folder = mkdtempSync(join(tmpdir(), 'anode-ledger-migrations-'))
  try {
    cpSync(MIGRATIONS, folder, { recursive: true })
    const entries = journal.entries.filter(({ when }) => when <= newest)
    writeFileSync(join(folder, 'meta', '_journal.json'), JSON.stringify({ ...journal, entries }))
    await migrateFrom(database, folder)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

/** The migrator's own list of its files. */
interface Journal {
  readonly entries: readonly { readonly when: number; readonly tag: string }[]
}

const readJournal = (): Journal => JSON.parse(readFileSync(join(MIGRATIONS, 'meta', '_journal.json'), 'utf8'))

/** What a database has been through once `migrateDatabase` is done. */
export function newestSchema(): { readonly migrations: number; readonly newestMigration: string } {
  const { entries } = readJournal()
  return { migrations: entries.length, newestMigration: entries.at(-1)?.tag ?? '' }
}

async function migrateFrom(database: Database, migrationsFolder: string): Promise<void> {
  await database.withStartLock(() =>
    database.kind === 'server'
      ? migrateServer(database.db as unknown as NodePgDatabase<typeof schema>, { migrationsFolder })
      : migrateEmbedded(database.db as unknown as PgliteDatabase<typeof schema>, { migrationsFolder }),
  )
}
