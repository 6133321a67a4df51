import { setImmediate } from 'node:timers/promises'
import { type Column, CSV_FILES, type CsvFileName, type CsvRowOf } from '../../contract/csv/index.js'

/** RFC 4180, section 2.1. */
const ROW_END = '\r\n'
const NEEDS_QUOTES = /[",\r\n]/
/** Rows written before others get their turn. */
const ROWS_AT_ONCE = 2000

/**
 * A file in the form of RFC 4180: header, commas, CRLF, quotes where a cell needs them. Cells are given as they are
 * stored; one that begins with `=` stays so, since the file is meant to be read back, not to be opened unseen.
 */
export async function writeCsv<N extends CsvFileName>(name: N, rows: readonly CsvRowOf<N>[]): Promise<string> {
  const columns = Object.entries<Column<unknown>>(CSV_FILES[name].columns)
  const parts = [csvLine(columns.map(([column]) => column))]
  for (let start = 0; start < rows.length; start += ROWS_AT_ONCE) {
    if (start > 0) await setImmediate()
    for (const row of rows.slice(start, start + ROWS_AT_ONCE)) {
      const values: Readonly<Record<string, unknown>> = row
      parts.push(csvLine(columns.map(([column, { write }]) => write(values[column]))))
    }
  }
  return parts.join('')
}

function csvLine(cells: readonly string[]): string {
  return cells.map(csvCell).join(',') + ROW_END
}

function csvCell(text: string): string {
  return NEEDS_QUOTES.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}
