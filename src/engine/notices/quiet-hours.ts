/** Hours of the day in which nobody is written to, local time; equal ones mean that there are none. */
export interface QuietHours {
  /** Full hours, 0 to 23: nothing from `from` on until `to`. */
  readonly from: number
  readonly to: number
}

const MINUTE_MS = 60_000
const HOUR_MINUTES = 60
const DAY_MINUTES = 24 * HOUR_MINUTES
/** A change of the clock moves the end of the quiet hours once; a second look finds it. */
const LOOKS = 3

/**
 * The first instant from a given one on at which somebody may be written to.
 *
 * @param timeZone of the IANA database
 * @throws RangeError for an unknown zone
 */
export function firstWaking(from: Date, timeZone: string, quiet: QuietHours): Date {
  let at = from
  for (let look = 0; look < LOOKS; look++) {
    const minutes = minutesOfDay(at, timeZone)
    if (!isQuiet(minutes, quiet)) return at
    const wait = (quiet.to * HOUR_MINUTES - minutes + DAY_MINUTES) % DAY_MINUTES
    at = new Date(Math.floor(at.getTime() / MINUTE_MS) * MINUTE_MS + wait * MINUTE_MS)
    // An hour that was skipped meanwhile was no waiting.
    const late = minutesOfDay(at, timeZone) - quiet.to * HOUR_MINUTES
    if (late > 0 && late <= HOUR_MINUTES) at = new Date(at.getTime() - late * MINUTE_MS)
  }
  return at
}

function isQuiet(minutes: number, { from, to }: QuietHours): boolean {
  const [start, end] = [from * HOUR_MINUTES, to * HOUR_MINUTES]
  if (start === end) return false
  return start < end ? minutes >= start && minutes < end : minutes >= start || minutes < end
}

function minutesOfDay(at: Date, timeZone: string): number {
  const parts = new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' })
  const [hour = 0, minute = 0] = parts.format(at).split(':').map(Number)
  return hour * HOUR_MINUTES + minute
}

/** The plain date of an instant where somebody lives, such as "2026-05-04". */
export function localDay(at: Date, timeZone: string): string {
  return new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(at)
}
