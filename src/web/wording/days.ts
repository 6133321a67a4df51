import { daysBetween, instantOf } from '../../presentation/calendar.js'
import { currentLocale, dateFormat } from './locale.js'
import { sayWord } from './spoken.js'

export { addDays, daysBetween, earliest, instantOf, latest } from '../../presentation/calendar.js'

/** Mean length of a month of the Gregorian calendar [d]: 146,097 days in 400 years. */
const DAYS_PER_MONTH = 146_097 / 4800
/** Shorter gaps are said in days: two months and a day are more than anybody counts. */
const DAYS_SAID_AS_DAYS = 62

const LONG = { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' } as const
const SHORT = { day: 'numeric', month: 'short', timeZone: 'UTC' } as const

/** @example sayDay('2027-05-12') // '12 May 2027' */
export function sayDay(day: string): string {
  return dateFormat(LONG).format(instantOf(day))
}

/** @example sayInstant('2031-04-18T09:30:00Z') // '18 Apr, 09:30' */
export function sayInstant(at: string): string {
  return dateFormat({ day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' }).format(new Date(at))
}

/** A date that may lie further away than the service looks. */
export function sayDayOrLater(day: string | null): string {
  return day === null ? sayWord('beyond') : sayDay(day)
}

/** @example saySpan('2027-03-02', '2027-08-30') // '2 Mar – 30 Aug 2027' */
export function saySpan(from: string | null, to: string | null): string {
  if (from === null) return sayWord('beyond')
  if (to === null) return sayWord('orLater', { day: sayDay(from) })
  const start = from.slice(0, 4) === to.slice(0, 4) ? dateFormat(SHORT).format(instantOf(from)) : sayDay(from)
  return `${start} – ${sayDay(to)}`
}

/**
 * How far a day lies from another, as people say it.
 *
 * @example sayDistance('2027-01-01', '2027-06-01') // 'in 5 months'
 */
export function sayDistance(from: string, to: string): string {
  const days = daysBetween(from, to)
  if (days === 0) return new Intl.RelativeTimeFormat(currentLocale(), { numeric: 'auto' }).format(0, 'day')
  const { amount, unit } = lengthOf(Math.abs(days))
  return new Intl.RelativeTimeFormat(currentLocale()).format(days > 0 ? amount : -amount, unit)
}

/**
 * The time from one day to another, whichever comes first: in days while those can be pictured.
 *
 * @example sayGap('2027-01-01', '2027-01-24') // '23 days'
 */
export function sayGap(from: string, to: string): string {
  const days = Math.abs(daysBetween(from, to))
  return days < DAYS_SAID_AS_DAYS ? sayTimeOf(days, 'day') : sayLength(days)
}

/** Today where the reader is: the day a form starts with. */
export function localToday(now: Date): string {
  const two = (value: number) => String(value).padStart(2, '0')
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}

function sayLength(days: number): string {
  const { amount, unit } = lengthOf(days)
  return sayTimeOf(amount, unit)
}

/** @example sayTimeOf(3, 'month') // '3 months' */
export function sayTimeOf(amount: number, unit: Length['unit']): string {
  return new Intl.NumberFormat(currentLocale(), { style: 'unit', unit, unitDisplay: 'long' }).format(amount)
}

interface Length {
  readonly amount: number
  readonly unit: 'day' | 'week' | 'month' | 'year'
}

function lengthOf(days: number): Length {
  if (days < 14) return { amount: days, unit: 'day' }
  if (days < 60) return { amount: Math.round(days / 7), unit: 'week' }
  const months = days / DAYS_PER_MONTH
  if (months < 23.5) return { amount: Math.round(months), unit: 'month' }
  return { amount: Math.round(months / 12), unit: 'year' }
}

/** @example count(1, 'day') // '1 day' */
export function count(amount: number, noun: string): string {
  return `${amount.toLocaleString('en-GB')} ${noun}${amount === 1 ? '' : 's'}`
}
