import type { ReferenceRow, ReferenceTable } from '../../contract/reference.js'
import { type SourceKey, source } from '../../engine/reference/sources.js'
import type { Status } from '../../engine/reference/status.js'
import { columnOf } from './columns.js'

/** What every row of the engine's reference tables has, beside its own fields. */
interface SourcedRow {
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

type Cell = ReferenceRow['values'][string]

/** A table of the engine as it is served: columns by the fields of its rows, and the sources that they name. */
export function referenceTable(
  name: string,
  title: string,
  description: string,
  rows: readonly SourcedRow[],
): ReferenceTable {
  const cells = rows.map(cellsOf)
  const keys = [...new Set(cells.flatMap((row) => [...row.keys()]))]
  const sourceKeys = [...new Set(rows.flatMap((row) => row.sources))]
  return {
    name,
    title,
    description,
    rows: rows.length,
    columns: keys.map(columnOf),
    items: rows.map(({ status, sources, note }, at) => ({
      values: Object.fromEntries(keys.map((key) => [key, cells[at]!.get(key) ?? null])),
      status,
      sources: [...sources],
      note,
    })),
    sources: sourceKeys.map((key) => ({ ...source(key) })),
  }
}

/** Rows of a record, with their names as keys. */
export function keyed<Row extends SourcedRow>(record: Readonly<Record<string, Row>>): (Row & { key: string })[] {
  return Object.entries(record).map(([key, row]) => ({ key, ...row }))
}

/** The fields of a row that are its own; a field that holds fields is spread: `suits.salt` becomes `suitsSalt`. */
function cellsOf({ status: _, sources: __, note: ___, ...fields }: SourcedRow): Map<string, Cell> {
  const cells = new Map<string, Cell>()
  for (const [key, value] of Object.entries(fields) as [string, unknown][]) {
    if (isCell(value)) cells.set(key, Array.isArray(value) ? [...value] : value)
    else for (const [inner, cell] of Object.entries(value as object)) cells.set(key + capitalised(inner), cell)
  }
  return cells
}

function isCell(value: unknown): value is Cell {
  return value === null || typeof value !== 'object' || Array.isArray(value)
}

function capitalised(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1)
}
