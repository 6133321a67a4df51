import { setImmediate } from 'node:timers/promises'

/** How long work may go on before requests that wait get their turn. */
const LONGEST_TURN_MS = 10

/** Does something for each item, and lets requests in between: an import of many rows must not hold the service up. */
export async function forEachRow<T>(items: readonly T[], work: (item: T) => void): Promise<void> {
  let began = performance.now()
  for (const item of items) {
    work(item)
    if (performance.now() - began < LONGEST_TURN_MS) continue
    await setImmediate()
    began = performance.now()
  }
}
