import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { generateDrizzleJson, generateMigration } from 'drizzle-kit/api'
import { getTableConfig, PgTable, pgTable, uuid } from 'drizzle-orm/pg-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import * as schema from '../../src/db/schema/index.js'
import { PROJECT_ROOT } from '../../src/project-root.js'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'

type Snapshot = ReturnType<typeof generateDrizzleJson>

const FOLDER = join(PROJECT_ROOT, 'migrations')
const readJson = (...path: string[]) => JSON.parse(readFileSync(join(FOLDER, ...path), 'utf8'))

const journal: { entries: { idx: number; tag: string }[] } = readJson('meta', '_journal.json')
const tables = Object.values(schema).filter((exported) => exported instanceof PgTable)

/** What the generator would write into a new migration now. */
async function missingStatements(wanted: Record<string, unknown>): Promise<string[]> {
  const newest = journal.entries.at(-1)!.tag.slice(0, 4)
  const migrated: Snapshot = readJson('meta', `${newest}_snapshot.json`)
  return generateMigration(migrated, generateDrizzleJson(wanted, migrated.id))
}

describe('migrations', () => {
  it('leave nothing of the schema out: the generator has no statement to add', async () => {
    expect(await missingStatements(schema)).toEqual([])
  })

  it('would be found wanting if a table were new', async () => {
    const berthRates = pgTable('made_up', { id: uuid('id').primaryKey() })
    expect(await missingStatements({ ...schema, berthRates })).toEqual([expect.stringContaining('"made_up"')])
  })

  it('are all in the journal, numbered without a gap', () => {
    const files = readdirSync(FOLDER).filter((name) => name.endsWith('.sql'))
    expect(files.sort()).toEqual(journal.entries.map(({ tag }) => `${tag}.sql`))
    expect(journal.entries.map(({ tag }) => Number(tag.slice(0, 4)))).toEqual(journal.entries.map((_, index) => index))
  })
})

describe('the migrated database', () => {
  let database: TestDatabase
  beforeAll(async () => {
    database = await createTestDatabase()
  })
  afterAll(() => database.close())

  it('has the columns that the schema names, as empty or as full as it says', async () => {
    const { rows } = await database.executor.executeSql(
      `select table_name || '.' || column_name as name, is_nullable = 'NO' as "notNull"
       from information_schema.columns where table_schema = 'public'`,
    )
    const wanted = tables.flatMap((table) => {
      const { name, columns } = getTableConfig(table)
      return columns.map((column) => ({ name: `${name}.${column.name}`, notNull: column.notNull }))
    })
    expect(sorted(rows as Column[])).toEqual(sorted(wanted))
    expect(wanted.length).toBeGreaterThan(100)
  })

  it('has been through each of them once', async () => {
    const { rows } = await database.executor.executeSql('select count(*)::int as n from drizzle.__drizzle_migrations')
    expect(rows).toEqual([{ n: journal.entries.length }])
  })
})

interface Column {
  readonly name: string
  readonly notNull: boolean
}

const sorted = (columns: readonly Column[]) => [...columns].sort((one, other) => (one.name < other.name ? -1 : 1))
