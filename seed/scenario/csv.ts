import { stringify } from 'csv-stringify/sync'

export type Cell = string | number | boolean | undefined

/** Rows as CSV text: header, comma, quotes where RFC 4180 wants them, a line feed after each row; yes and no for truth. */
export function csvText(columns: readonly string[], rows: readonly Readonly<Record<string, Cell>>[]): string {
  return stringify(
    rows.map((row) => columns.map((column) => cellText(row[column]))),
    { header: true, columns: [...columns], record_delimiter: '\n' },
  )
}

function cellText(cell: Cell): string {
  if (cell === undefined) return ''
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no'
  return String(cell)
}
