import type { Touched } from './explain.js'
import type { TouchedBy } from './touched.js'

/** Status of these: a choice. Below these nothing can be told apart: a page of a list, and the blocks of a few look-ups by index. */
const FEW_ROWS = 100
const FEW_BUFFERS = 100
/** Of a row that is answered: three look-ups along indexes, each of three levels and the row. In small tables they are read whole instead. */
const BUFFERS_A_ROW = 12
/** A table of so few blocks is best read whole. */
const WHOLE_BUFFERS = 20
/** Status: a choice. An index of ten times the rows may be a level deeper; what grows along with the data is ten times as much. */
const SLACK = 2.5

export interface Growth {
  readonly statement: string
  readonly before: Touched
  readonly after: Touched
  /** How many times as much it touched, beyond what its answer grew: 1 for a statement that costs what it gives. */
  readonly rows: number
  readonly buffers: number
}

/** Of the statements that both sizes of data sent, how each grew. */
export function growths(small: TouchedBy, large: TouchedBy): Growth[] {
  return [...small].flatMap(([statement, before]) => {
    const after = large.get(statement)
    if (after === undefined) return []
    const answer = Math.max(1, after.answered / Math.max(1, before.answered))
    const rows = after.scanned / Math.max(FEW_ROWS, before.scanned) / answer
    const buffers = after.buffers / Math.max(FEW_BUFFERS, before.buffers, before.answered * BUFFERS_A_ROW) / answer
    return [{ statement, before, after, rows, buffers }]
  })
}

/** Those that grew faster than their answers. */
export function tooFast(all: readonly Growth[]): Growth[] {
  return all.filter(({ rows, buffers, after }) => after.buffers > WHOLE_BUFFERS && (rows > SLACK || buffers > SLACK))
}

export function inWords({ statement, before, after }: Growth): string {
  const of = ({ scanned, buffers, answered }: Touched) => `${scanned} rows and ${buffers} blocks for ${answered}`
  return `${of(before)}, then ${of(after)}: ${statement}`
}
