import type { PgTable } from 'drizzle-orm/pg-core'
import type { CsvFileName } from '../../../contract/csv/index.js'

/** Rows to insert, or to update where their natural key is there already. All rows have the same members. */
export interface Batch {
  /** The file whose counts they belong to; null for what comes into being along with it (owners, pontoons, positions). */
  readonly file: CsvFileName | null
  readonly table: PgTable
  /** The members that tell rows apart, besides the organisation. */
  readonly key: readonly string[]
  readonly rows: readonly Readonly<Record<string, unknown>>[]
}

/** A batch with its rows held against the table's own type. */
export function batch<T extends PgTable>(
  file: CsvFileName | null,
  table: T,
  key: readonly (keyof T['$inferInsert'] & string)[],
  rows: readonly Omit<T['$inferInsert'], 'organisationId'>[],
): Batch {
  return { file, table, key, rows: rows as readonly Readonly<Record<string, unknown>>[] }
}
