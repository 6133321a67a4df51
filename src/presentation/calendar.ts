const MS_PER_DAY = 86_400_000

/** Milliseconds of a day's start, UTC. */
export function instantOf(day: string): number {
  return Date.parse(`${day}T00:00:00Z`)
}

/** @example daysBetween('2027-02-27', '2027-03-01') // 2 */
export function daysBetween(from: string, to: string): number {
  return Math.round((instantOf(to) - instantOf(from)) / MS_PER_DAY)
}

/** The day so many days later, earlier when negative. */
export function addDays(day: string, days: number): string {
  return new Date(instantOf(day) + days * MS_PER_DAY).toISOString().slice(0, 10)
}

/** The earliest of some days; undefined when there is none. ISO dates sort as text. */
export function earliest(days: readonly string[]): string | undefined {
  return days.toSorted()[0]
}

/** The latest of some days; undefined when there is none. */
export function latest(days: readonly string[]): string | undefined {
  return days.toSorted().at(-1)
}
