import { quantileSorted } from 'simple-statistics'

/** Median, 95th percentile and longest, and the share within a limit [ms]. */
export function sayTimes(times: readonly number[], limitMs: number): string {
  const sorted = times.toSorted((one, other) => one - other)
  const [median, most, longest] = [0.5, 0.95, 1].map((share) => quantileSorted(sorted, share).toFixed(1))
  const within = sorted.filter((time) => time <= limitMs).length / sorted.length
  return `median ${median} ms, 95 % within ${most} ms, longest ${longest} ms; ${(100 * within).toFixed(0)} % within ${limitMs} ms`
}
