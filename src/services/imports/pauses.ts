import { setImmediate } from 'node:timers/promises'

/** Rows worked on before others get their turn: a few milliseconds' worth. */
const ROWS_AT_ONCE = 2000

/** Does something for each row, and lets requests in between: an import of many rows must not hold the service up. */
export async function forEachRow<T>(rows: readonly T[], work: (row: T, index: number) => void): Promise<void> {
  for (let start = 0; start < rows.length; start += ROWS_AT_ONCE) {
    if (start > 0) await setImmediate()
    rows.slice(start, start + ROWS_AT_ONCE).forEach((row, index) => {
      work(row, start + index)
    })
  }
}
