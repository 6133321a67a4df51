import { daysBetween, earliest } from '../../wording/days.js'

/** A stretch of the calendar drawn over the width of a bar. */
export interface DateAxis {
  readonly from: string
  readonly to: string
}

/** Part of the axis's width, 0 to 1. `cut` where it goes on beyond an end. */
export interface AxisSpan {
  readonly start: number
  readonly end: number
  readonly cut: 'before' | 'after' | 'both' | null
}

const MONTHS_AHEAD = 18
const MONTHS_BEHIND = 3
/** On a longer axis the names of quarters would run into each other on a phone. */
const MONTHS_WITH_QUARTERS = 24
/** What lies later is cut: a stretch of years would leave the next season no room. */
const LONGEST_MONTHS_AHEAD = 72

/** The axis that all rows share: from a little before today to a year and a half ahead, in whole months. */
export function fleetAxis(asOf: string): DateAxis {
  return { from: monthStart(asOf, -MONTHS_BEHIND), to: monthStart(asOf, MONTHS_AHEAD) }
}

/** The same, longer where a day to be shown lies later; cut six years ahead. */
export function axisUntil(asOf: string, last: string): DateAxis {
  const axis = fleetAxis(asOf)
  const farthest = monthStart(asOf, LONGEST_MONTHS_AHEAD)
  const end = monthStart(last, 1)
  if (end <= axis.to) return axis
  return { from: axis.from, to: earliest([end, farthest]) ?? end }
}

/** Share of the axis's width at which a day lies; outside 0 to 1 for days off the axis. */
export function placeOn(axis: DateAxis, day: string): number {
  return daysBetween(axis.from, day) / daysBetween(axis.from, axis.to)
}

/** Where a span lies on the axis; null when no part of it does. A span without an end runs off the axis. */
export function spanOn(axis: DateAxis, from: string | null, to: string | null): AxisSpan | null {
  if (from === null) return null
  const start = placeOn(axis, from)
  const end = to === null ? Number.POSITIVE_INFINITY : placeOn(axis, to)
  if (start > 1 || end < 0) return null
  return { start: Math.max(0, start), end: Math.min(1, end), cut: cutOf(start < 0, end > 1) }
}

/** First days of the quarters on the axis; of the years alone on a long one. */
export function quartersOn(axis: DateAxis): string[] {
  const isLong = monthStart(axis.from, MONTHS_WITH_QUARTERS) < axis.to
  const quarters: string[] = []
  for (let month = 1; monthStart(axis.from, month) < axis.to; month++) {
    const day = monthStart(axis.from, month)
    if ((Number(day.slice(5, 7)) - 1) % (isLong ? 12 : 3) === 0) quarters.push(day)
  }
  return quarters
}

function cutOf(before: boolean, after: boolean): AxisSpan['cut'] {
  if (before && after) return 'both'
  if (before) return 'before'
  return after ? 'after' : null
}

function monthStart(day: string, months: number): string {
  const date = new Date(`${day.slice(0, 7)}-01T00:00:00Z`)
  date.setUTCMonth(date.getUTCMonth() + months)
  return date.toISOString().slice(0, 10)
}
