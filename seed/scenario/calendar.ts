const MS_PER_DAY = 86_400_000

/**
 * The date a number of days later (or earlier), in the calendar of UTC.
 *
 * @param date ISO date
 * @example addDays('2031-02-27', 2) // '2031-03-01'
 */
export function addDays(date: string, days: number): string {
  return new Date(instant(date) + Math.round(days) * MS_PER_DAY).toISOString().slice(0, 10)
}

/**
 * Days from one date to another; negative if the second is earlier.
 *
 * @example daysBetween('2031-02-27', '2031-03-01') // 2
 */
export function daysBetween(from: string, to: string): number {
  return Math.round((instant(to) - instant(from)) / MS_PER_DAY)
}

/** Day of the year, 1 January = 0. */
export function dayOfYear(date: string): number {
  return daysBetween(`${date.slice(0, 4)}-01-01`, date)
}

export function yearOf(date: string): number {
  return Number(date.slice(0, 4))
}

function instant(date: string): number {
  const ms = /^\d{4}-\d{2}-\d{2}$/.test(date) ? Date.parse(`${date}T00:00:00Z`) : Number.NaN
  if (Number.isNaN(ms)) throw new RangeError(`not an ISO date: ${date}`)
  return ms
}
