import { type SQL, sql } from 'drizzle-orm'
import type { Database, Db } from '../client.js'
import { quoted, rowsOf, type TableShape, tablesInOrder } from './table-shapes.js'

/** Rows held at a time: a row may carry a whole fit. */
const ROWS_AT_A_TIME = 200

/** All tables as they were at one moment. */
export interface Snapshot {
  readonly takenAt: string
  /** How far the schema was: when the newest migration that ran was written [ms since 1970]. */
  readonly migratedTo: number
  readonly tables: readonly TableShape[]
  /** One line a row: a JSON array of the values as the database writes them, in the order of the columns. */
  linesOf(table: TableShape): AsyncIterable<string>
  /** Which pictures photos show. */
  pictures(): Promise<PictureName[]>
}

export interface PictureName {
  readonly organisationId: string
  readonly sha256: string
}

/**
 * Reads every table at one moment, while others go on writing: what they commit meanwhile is not seen. The embedded database has one
 * connection, so there they wait until `work` is done.
 */
export function readSnapshot<T>(database: Database, work: (snapshot: Snapshot) => Promise<T>): Promise<T> {
  return database.db.transaction(
    async (transaction) => {
      const tx = transaction as unknown as Db
      await sayValuesExactly(tx)
      const [moment] = await rowsOf<{ takenAt: string; migratedTo: number }>(
        tx,
        sql`select to_char(now(), 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') as "takenAt",
          (select max(created_at)::float8 from drizzle.__drizzle_migrations) as "migratedTo"`,
      )
      if (!moment) throw new Error('the database does not say what time it is')
      return work({
        ...moment,
        tables: await tablesInOrder(tx),
        linesOf: (table) => linesOf(tx, table),
        pictures: () => picturesOf(tx),
      })
    },
    { isolationLevel: 'repeatable read', accessMode: 'read only' },
  )
}

/** Which pictures photos show just now. */
export function picturesShown(database: Database): Promise<PictureName[]> {
  return picturesOf(database.db)
}

/** Written out, values must not depend on how a server or a connection likes to write them. */
export async function sayValuesExactly(tx: Db): Promise<void> {
  await tx.execute(sql`select set_config('timezone', 'UTC', true), set_config('datestyle', 'ISO, YMD', true),
    set_config('intervalstyle', 'postgres', true), set_config('bytea_output', 'hex', true),
    set_config('extra_float_digits', '1', true)`)
}

function linesOf(tx: Db, { name, columns }: TableShape): AsyncIterable<string> {
  // As text, each type's own output is read back by its own input: exact, and null is told from the null of JSON.
  const values = columns.map((column) => `${quoted(column.name)}::text`).join(', ')
  return linesOfQuery(tx, sql.raw(`select to_json(array[${values}])::text as line from public.${quoted(name)}`))
}

/** What a query gives as `line`, a part at a time, however much there is. Inside a transaction, one after another. */
export async function* linesOfQuery(tx: Db, query: SQL): AsyncIterable<string> {
  await tx.execute(sql`declare kept_lines no scroll cursor for ${query}`)
  for (;;) {
    const rows = await rowsOf<{ line: string }>(tx, sql.raw(`fetch ${ROWS_AT_A_TIME} from kept_lines`))
    for (const { line } of rows) yield line
    if (rows.length < ROWS_AT_A_TIME) break
  }
  await tx.execute(sql.raw('close kept_lines'))
}

function picturesOf(db: Db): Promise<PictureName[]> {
  return rowsOf(
    db,
    sql`select distinct organisation_id::text as "organisationId", sha256 from photos order by "organisationId", sha256`,
  )
}
