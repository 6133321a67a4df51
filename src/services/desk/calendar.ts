import type { CalendarQuery, DeskCalendar, DueAnode } from '../../contract/desk.js'
import { calendarDay, dayNumber } from '../dates/day-numbers.js'
import type { MatchingBoat } from './desk-rows.js'

const DAYS_PER_WEEK = 7
/** 1970-01-01, day 0, was a Thursday: its week began three days before. */
const DAYS_SINCE_MONDAY_OF_DAY_0 = 3

/** The anodes that are due in each period, with the lifts planned in it. */
export function deskCalendar(
  asOf: string,
  boats: readonly MatchingBoat[],
  { from, periods, by }: Pick<CalendarQuery, 'from' | 'periods' | 'by'>,
): DeskCalendar {
  const starts = periodStarts(from ?? asOf, periods, by)
  const due = boats.flatMap(dueAnodes).sort((a, b) => compare(a.on, b.on) || compare(a.boat, b.boat))
  const lifts = boats
    .flatMap(({ boat, haulOuts }) => haulOuts.filter(({ planned }) => planned).map(({ on }) => ({ boat, on })))
    .sort((a, b) => compare(a.on, b.on) || compare(a.boat, b.boat))
  return {
    asOf,
    overdue: due.filter(({ on }) => on < starts[0]!),
    periods: starts.slice(0, -1).map((start, index) => {
      const to = starts[index + 1]!
      const within = ({ on }: { readonly on: string }) => on >= start && on < to
      return { from: start, to, due: due.filter(within), lifts: lifts.filter(within) }
    }),
  }
}

function dueAnodes({ boat, anodes }: MatchingBoat): DueAnode[] {
  return anodes.flatMap(({ item: { anode, position, alloy, replace } }) =>
    replace.p50 === null
      ? []
      : [{ boat, anode, position, alloy, on: replace.p50, earliest: replace.p10, latest: replace.p90 }],
  )
}

/** First days of the periods, and of the one after them. */
function periodStarts(from: string, periods: number, by: CalendarQuery['by']): string[] {
  const index = Array.from({ length: periods + 1 }, (_, at) => at)
  if (by === 'month') return index.map((month) => monthStart(from, month))
  const day = dayNumber(from)
  const monday = day - ((day + DAYS_SINCE_MONDAY_OF_DAY_0) % DAYS_PER_WEEK)
  return index.map((week) => calendarDay(monday + week * DAYS_PER_WEEK))
}

/** The first day of the month so many months after that of a day. @example monthStart('2031-11-18', 2) // '2032-01-01' */
export function monthStart(day: string, months: number): string {
  const date = new Date(`${day.slice(0, 7)}-01T00:00:00Z`)
  date.setUTCMonth(date.getUTCMonth() + months)
  return date.toISOString().slice(0, 10)
}

function compare(a: string, b: string): number {
  if (a === b) return 0
  return a < b ? -1 : 1
}
