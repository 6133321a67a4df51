/** RFC 4180, section 2.1. */
const ROW_END = '\r\n'
const NEEDS_QUOTES = /[",\r\n]/
/** What a spreadsheet takes for the begin of a formula, whatever stands before it in white space (OWASP, CSV injection). */
const BEGINS_A_FORMULA = /^\s*[=+\-@\t\r]/

export type SpreadsheetCell = string | number | null

/**
 * A table for a spreadsheet, in the form of RFC 4180: commas, CRLF, quotes where a cell needs them. It is opened, not read back: a
 * text that begins like a formula gets an apostrophe before it, so that no name of a boat is ever computed.
 *
 * @example spreadsheet(['boat'], [['=1+1']]) // "boat\r\n'=1+1\r\n"
 */
export function spreadsheet(columns: readonly string[], rows: readonly (readonly SpreadsheetCell[])[]): string {
  return [columns, ...rows].map((row) => row.map(cellText).join(',') + ROW_END).join('')
}

function cellText(cell: SpreadsheetCell): string {
  if (cell === null) return ''
  if (typeof cell === 'number') return String(cell)
  const text = BEGINS_A_FORMULA.test(cell) ? `'${cell}` : cell
  return NEEDS_QUOTES.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}
