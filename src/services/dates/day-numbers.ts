const MS_PER_DAY = 86_400_000

/** Days since 1970-01-01 of a calendar day 'YYYY-MM-DD': the engine reckons in them. */
export function dayNumber(day: string): number {
  return Math.round(Date.parse(`${day}T00:00:00Z`) / MS_PER_DAY)
}

/** The calendar day of a day number; the fraction of a day is cut off. */
export function calendarDay(number: number): string {
  return new Date(Math.floor(number) * MS_PER_DAY).toISOString().slice(0, 10)
}

/** Days since 1970-01-01 of the UTC day that an instant falls on. */
export function dayOfInstant(instant: string): number {
  return Math.floor(Date.parse(instant) / MS_PER_DAY)
}
