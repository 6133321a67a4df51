import { sql } from 'drizzle-orm'
import type { Database, Db } from '../client.js'
import { sayValuesExactly } from './read-tables.js'
import { quoted, rowsOf, type TableShape, tablesInOrder } from './table-shapes.js'

/** Characters of rows that go to the database at once. */
const BATCH_LENGTH = 1_000_000

/** The rows of one table as they were kept. */
export interface KeptTable {
  readonly name: string
  /** Names, in the order of the values in each line. */
  readonly columns: readonly string[]
  readonly rows: number
  lines(): AsyncIterable<string>
}

/** The first table that has rows, if any has: such a database is not written over. */
export async function tableWithRows(database: Database): Promise<string | undefined> {
  return firstWithRows(database.db, await tablesInOrder(database.db))
}

/**
 * Writes kept rows into empty tables of the same schema: all of them, or none. Triggers rest meanwhile, for the trail that they would write
 * is among the rows; the rules of keys hold.
 *
 * @throws Error where a table has rows, is not known, or takes another number of rows than were kept
 */
export function loadTables(database: Database, kept: readonly KeptTable[]): Promise<void> {
  return database.db.transaction(async (transaction) => {
    const tx = transaction as unknown as Db
    await sayValuesExactly(tx)
    const shapes = await tablesInOrder(tx)
    const unknown = kept.find(({ name }) => !shapes.some((shape) => shape.name === name))
    if (unknown) throw new Error(`the backup has a table ${unknown.name}, which this database has not`)
    const names = shapes.map(({ name }) => `public.${quoted(name)}`)
    // A service that starts just now waits here, and finds all rows or none.
    await tx.execute(sql.raw(`lock table ${names.join(', ')} in access exclusive mode`))
    const full = await firstWithRows(tx, shapes)
    if (full !== undefined) throw new Error(`the database is not empty: there are rows in ${full}`)
    for (const name of names) await tx.execute(sql.raw(`alter table ${name} disable trigger user`))
    for (const shape of shapes) {
      const table = kept.find(({ name }) => name === shape.name)
      if (table) await loadTable(tx, shape, table)
    }
    await setIdentities(tx)
    await takeUpUnfinishedJobs(tx)
    for (const name of names) await tx.execute(sql.raw(`alter table ${name} enable trigger user`))
  })
}

async function firstWithRows(db: Db, shapes: readonly TableShape[]): Promise<string | undefined> {
  for (const { name } of shapes) {
    const rows = await rowsOf(db, sql.raw(`select 1 from public.${quoted(name)} limit 1`))
    if (rows.length > 0) return name
  }
  return undefined
}

async function loadTable(tx: Db, shape: TableShape, table: KeptTable): Promise<void> {
  const insert = insertInto(shape, table)
  let batch: string[] = []
  let length = 0
  let rows = 0
  const flush = async () => {
    if (batch.length > 0)
      await tx.execute(sql`${insert} from json_array_elements(${`[${batch.join(',')}]`}::json) as kept(row)`)
    batch = []
    length = 0
  }
  for await (const line of table.lines()) {
    batch.push(line)
    length += line.length
    rows++
    if (length > BATCH_LENGTH) await flush()
  }
  await flush()
  if (rows !== table.rows) throw new Error(`the backup has ${rows} rows of ${table.name}, and says ${table.rows}`)
}

function insertInto({ name, columns }: TableShape, table: KeptTable) {
  const values = table.columns.map((column, index) => {
    const known = columns.find((each) => each.name === column)
    if (!known) throw new Error(`the backup has a column ${column} of ${name}, which this database has not`)
    return `(row->>${index})::${known.type}`
  })
  const names = table.columns.map(quoted).join(', ')
  return sql.raw(`insert into public.${quoted(name)} (${names}) overriding system value select ${values.join(', ')}`)
}

/** Numbers that the database gives out go on after those that were loaded. */
async function setIdentities(tx: Db): Promise<void> {
  const identities = await rowsOf<{ table: string; column: string }>(
    tx,
    sql`select table_name as "table", column_name as "column" from information_schema.columns
      where table_schema = 'public' and is_identity = 'YES'`,
  )
  for (const { table, column } of identities) {
    const from = sql.raw(`public.${quoted(table)}`)
    await tx.execute(sql`select setval(pg_get_serial_sequence(${`public.${quoted(table)}`}, ${column}), max(${sql.identifier(column)}))
      from ${from} having max(${sql.identifier(column)}) is not null`)
  }
}

/** Their places in the queue were not kept: as jobs whose process was lost they are queued again at the next start. */
async function takeUpUnfinishedJobs(tx: Db): Promise<void> {
  await tx.execute(sql`update jobs set state = 'running', heartbeat_at = 'epoch' where state in ('queued', 'running')`)
}
