const MS_PER_DAY = 86_400_000

/**
 * Days that a dock's calendar may be ahead of the server's: east of Greenwich it is tomorrow already while it is still
 * today in UTC.
 */
const DAYS_AHEAD_OF_UTC = 1

/** The calendar day of an instant, in UTC ('YYYY-MM-DD'). */
export function utcDay(instant: Date): string {
  return instant.toISOString().slice(0, 10)
}

/** A calendar day so many days later (earlier when negative). */
export function addDays(day: string, days: number): string {
  return utcDay(new Date(Date.parse(`${day}T00:00:00Z`) + days * MS_PER_DAY))
}

/** The last day on which something may have happened already. */
export function latestAcceptedDay(today: string): string {
  return addDays(today, DAYS_AHEAD_OF_UTC)
}

/**
 * Whether a day lies ahead of every dock on earth, so that nothing can have been measured on it yet.
 *
 * @param day 'YYYY-MM-DD', or an instant that starts so (UTC)
 * @param today the server's day in UTC
 * @example isInFuture('2031-04-20', '2031-04-18') // true
 */
export function isInFuture(day: string, today: string): boolean {
  return day.slice(0, 10) > latestAcceptedDay(today)
}

/** What to tell whoever gave such a day. */
export function inFutureDetail(day: string): string {
  return `${day.slice(0, 10)} lies in the future: give the day on which it was done`
}
