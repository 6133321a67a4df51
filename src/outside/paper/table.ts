import { INK, LEFT, RIGHT, type Sheet, type Style } from './sheet.js'

export interface Column<Row> {
  readonly head: string
  /** Share of the page's width; those of a table add to 1. */
  readonly share: number
  readonly align?: 'left' | 'right'
  readonly text: (row: Row) => string
}

/** Lines of a cell; what is longer ends in an ellipsis. */
const MOST_LINES = 2
const ROW_GAP = 3
const GAP = 4
const SIZE = 8

/** A table; of more rows than there may be, or than there is room for, the number is told. */
export function setTable<Row>(
  sheet: Sheet,
  columns: readonly Column<Row>[],
  rows: readonly Row[],
  { most, sayMore }: { readonly most: number; readonly sayMore: (left: number) => string },
): void {
  setRow(sheet, columns, ({ head }) => head, { face: 'bold', colour: INK.soft })
  sheet.rule()
  let set = 0
  while (set < Math.min(most, rows.length) && sheet.room > LAST_LINES) {
    const row = rows[set]
    if (row !== undefined) setRow(sheet, columns, ({ text }) => text(row), {})
    set++
  }
  const left = rows.length - set
  if (left > 0) sheet.line(sayMore(left), { size: SIZE, colour: INK.soft })
}

/** Room for one more row of two lines, and for the line that tells how many are left [pt]. */
const LAST_LINES = 36

function setRow<Row>(
  sheet: Sheet,
  columns: readonly Column<Row>[],
  text: (column: Column<Row>) => string,
  style: Style,
): void {
  const whole = RIGHT - LEFT
  let x = LEFT
  let height = 0
  for (const column of columns) {
    const width = column.share * whole - GAP
    const align = column.align ?? 'left'
    height = Math.max(height, sheet.block(text(column), x, width, MOST_LINES, { ...style, align, size: SIZE }))
    x += column.share * whole
  }
  sheet.y += height + ROW_GAP
}
