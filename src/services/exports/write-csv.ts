import { type Column, CSV_FILES, type CsvFileName, type CsvRowOf } from '../../contract/csv/index.js'

/** RFC 4180, section 2.1. */
const ROW_END = '\r\n'
const NEEDS_QUOTES = /[",\r\n]/

/** The first row of a file: the names of its columns. */
export function headerOf(name: CsvFileName): string {
  return csvLine(Object.keys(CSV_FILES[name].columns))
}

/**
 * Rows in the form of RFC 4180: commas, CRLF, quotes where a cell needs them. Cells are given as they are stored; one
 * that begins with `=` stays so, since the file is meant to be read back, not to be opened unseen.
 */
export function csvLines<N extends CsvFileName>(name: N, rows: readonly CsvRowOf<N>[]): string {
  const columns = Object.entries<Column<unknown>>(CSV_FILES[name].columns)
  const lines = rows.map((row: Readonly<Record<string, unknown>>) =>
    csvLine(columns.map(([column, { write }]) => write(row[column]))),
  )
  return lines.join('')
}

function csvLine(cells: readonly string[]): string {
  return cells.map(csvCell).join(',') + ROW_END
}

function csvCell(text: string): string {
  return NEEDS_QUOTES.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}
