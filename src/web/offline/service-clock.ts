import { localToday } from '../wording/days.js'

const KEY = 'service clock: phone is behind by'
/** Shorter differences are the way there and back. */
const NOTED_MS = 30_000
/** From here on a phone's clock is said to be wrong. Convention. */
const WRONG_MS = 5 * 60_000

/** Holds the phone's clock against the `Date` of an answer (RFC 9110, 6.6.1). */
export function noteServiceDate(date: string | null, now: number): void {
  const told = date === null ? Number.NaN : Date.parse(date)
  if (Number.isNaN(told)) return
  const behind = told - now
  if (Math.abs(behind - behindMs()) < NOTED_MS) return
  try {
    localStorage.setItem(KEY, String(Math.abs(behind) < NOTED_MS ? 0 : behind))
  } catch {
    // Without storage the phone's own clock counts.
  }
}

/** How far the phone's clock is behind the service's [ms]; below 0 it is ahead. */
export function behindMs(): number {
  try {
    const kept = Number(localStorage.getItem(KEY) ?? 0)
    return Number.isFinite(kept) ? kept : 0
  } catch {
    return 0
  }
}

/** Now, by the service's clock as it was last heard. */
export function serviceNow(): Date {
  return new Date(Date.now() + behindMs())
}

/** The dock's day, whatever the phone believes. */
export function dockToday(): string {
  return localToday(serviceNow())
}

/** How wrong the phone's clock is [ms]; null while it is good enough. */
export function clockError(): number | null {
  const behind = behindMs()
  return Math.abs(behind) < WRONG_MS ? null : -behind
}
