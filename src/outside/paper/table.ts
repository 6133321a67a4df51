import { INK, LEFT, RIGHT, type Sheet } from './sheet.js'

export interface Column<Row> {
  readonly head: string
  /** Share of the page's width; those of a table add to 1. */
  readonly share: number
  readonly align?: 'left' | 'right'
  readonly text: (row: Row) => string
}

const ROW_HEIGHT = 13
const GAP = 4

/** A table of rows one line high; those beyond the most are told by their number. */
export function setTable<Row>(sheet: Sheet, columns: readonly Column<Row>[], rows: readonly Row[], most: number): void {
  const whole = RIGHT - LEFT
  const setRow = (text: (column: Column<Row>) => string, face: 'plain' | 'bold') => {
    let x = LEFT
    for (const column of columns) {
      const width = column.share * whole - GAP
      const align = column.align ?? 'left'
      sheet.cell(text(column), x, width, { face, align, size: 8, colour: face === 'bold' ? INK.soft : INK.ink })
      x += column.share * whole
    }
    sheet.y += ROW_HEIGHT
  }
  setRow(({ head }) => head, 'bold')
  sheet.y -= 1
  sheet.rule()
  for (const row of rows.slice(0, most)) setRow((column) => column.text(row), 'plain')
  const left = rows.length - most
  if (left > 0) sheet.line(`and ${left} more: see the boat’s page`, { size: 8, colour: INK.soft })
}
