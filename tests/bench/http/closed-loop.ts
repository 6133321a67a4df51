/** What a load came to. */
export interface Measured {
  readonly perSecond: number
  readonly p50Ms: number
  readonly p99Ms: number
}

const MS_PER_S = 1000

/** So many at once, each begun when one before it ended, until all are done: what users that wait for an answer do. */
export async function closedLoop<Task>(
  tasks: readonly Task[],
  atOnce: number,
  work: (task: Task) => Promise<unknown>,
): Promise<Measured> {
  const waited: number[] = []
  let next = 0
  const one = async () => {
    for (let task = tasks[next++]; task !== undefined; task = tasks[next++]) {
      const began = performance.now()
      await work(task)
      waited.push(performance.now() - began)
    }
  }
  const began = performance.now()
  await Promise.all(Array.from({ length: atOnce }, one))
  const seconds = (performance.now() - began) / MS_PER_S
  return { perSecond: waited.length / seconds, ...percentiles(waited) }
}

export function percentiles(milliseconds: readonly number[]): Pick<Measured, 'p50Ms' | 'p99Ms'> {
  const sorted = milliseconds.toSorted((a, b) => a - b)
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN
  return { p50Ms: at(0.5), p99Ms: at(0.99) }
}

/** Of an odd number of rounds the middle one; of an even one the lower of the two in the middle. */
export function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor((values.length - 1) / 2)] ?? Number.NaN
}
