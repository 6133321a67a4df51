import type { RateInterval } from './rate-intervals.js'

const ROWS = new WeakMap<readonly RateInterval[], ReadonlyMap<string, readonly number[]>>()

/** The rows of an anode among a model's intervals, in order of time; looked up once for a list of intervals. */
export function rowsOfAnode(intervals: readonly RateInterval[], key: string): readonly number[] {
  let rows = ROWS.get(intervals)
  if (rows === undefined) {
    rows = byAnode(intervals)
    ROWS.set(intervals, rows)
  }
  return rows.get(key) ?? []
}

function byAnode(intervals: readonly RateInterval[]): Map<string, number[]> {
  const rows = new Map<string, number[]>()
  intervals.forEach(({ context }, row) => {
    const { key } = context.anode.history
    const known = rows.get(key)
    if (known === undefined) rows.set(key, [row])
    else known.push(row)
  })
  return rows
}
