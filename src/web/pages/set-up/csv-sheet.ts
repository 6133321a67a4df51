/** A CSV file as its text has it (RFC 4180), so that cells can be mended where the service found them wanting. */
export interface Sheet {
  readonly header: readonly string[]
  readonly rows: readonly SheetRow[]
}

export interface SheetRow {
  /** Line of the text on which the row begins; the header is line 1. */
  readonly line: number
  readonly cells: readonly string[]
}

/** A cell by the names that the service calls it by. */
export interface CellPlace {
  readonly line: number
  readonly column: string
}

/**
 * Reads rows and the lines they begin on, as the service counts them: line breaks within quotes are counted too. Blank lines
 * are left out. A quote that is never closed takes the rest of the text with it, as there.
 */
export function readSheet(text: string): Sheet {
  const records: SheetRow[] = []
  let line = 1
  let at = text.charCodeAt(0) === BYTE_ORDER_MARK ? 1 : 0
  while (at < text.length) {
    const { cells, end } = readRecord(text, at)
    if (cells.length > 1 || cells[0] !== '') records.push({ line, cells })
    line += text.slice(at, end).split('\n').length - 1
    at = end
  }
  const [header, ...rows] = records
  return { header: header?.cells ?? [], rows }
}

const BYTE_ORDER_MARK = 0xfeff
const CELL = /(?:"((?:[^"]|"")*)(?:"|$)|([^",\r\n]*))([^,\r\n]*)(,|\r?\n|\r|$)/y

function readRecord(text: string, from: number): { cells: string[]; end: number } {
  const cells: string[] = []
  CELL.lastIndex = from
  for (;;) {
    const found = CELL.exec(text)
    if (found === null) return { cells, end: text.length }
    const [whole, quoted, plain, rest, end] = found
    cells.push((quoted === undefined ? (plain ?? '') : quoted.replaceAll('""', '"')) + (rest ?? ''))
    if (end !== ',') return { cells, end: Math.max(CELL.lastIndex, from + whole.length, from + 1) }
  }
}

/** The text of a sheet; what was read from it again is the same. */
export function writeSheet({ header, rows }: Sheet): string {
  return [header, ...rows.map(({ cells }) => cells)].map((cells) => `${cells.map(writeCell).join(',')}\r\n`).join('')
}

function writeCell(cell: string): string {
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell
}

/** The sheet with other values in some cells. */
export function mendSheet(sheet: Sheet, mended: readonly (CellPlace & { readonly value: string })[]): Sheet {
  const byLine = new Map<number, (typeof mended)[number][]>()
  for (const cell of mended) byLine.set(cell.line, [...(byLine.get(cell.line) ?? []), cell])
  const rows = sheet.rows.map((row) => {
    const cells = [...row.cells]
    for (const { column, value } of byLine.get(row.line) ?? []) {
      const place = placeOf(sheet, column)
      if (place === -1) continue
      while (cells.length < place) cells.push('')
      cells[place] = value
    }
    return { line: row.line, cells }
  })
  return { header: sheet.header, rows }
}

/** Columns go by their names whatever their case, as in the service. @returns -1 where there is none */
export function placeOf({ header }: Sheet, column: string): number {
  return header.findIndex((name) => name.trim().toLowerCase() === column)
}
