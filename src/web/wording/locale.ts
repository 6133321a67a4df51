import { keptPreferences } from '../i18n/preferences.js'

let locale = 'en-GB'
let timeZone = keptPreferences().timeZone

/** The locale that dates and numbers are written in. */
export function currentLocale(): string {
  return locale
}

/** Writes dates and numbers in another locale from now on. */
export function writeIn(next: string): void {
  locale = next
}

/** Tells instants in another time zone from now on; undefined: the browser's. Days of the dock have none. */
export function tellTimeIn(next: string | undefined): void {
  timeZone = next
}

/** A tick of an axis of time, in UTC as the axis is: the year where one begins, else its month. @example sayTick(new Date('2031-04-01')) // 'Apr' */
export function sayTick(at: Date): string {
  const style = at.getUTCMonth() === 0 ? ({ year: 'numeric' } as const) : ({ month: 'short' } as const)
  return dateFormat({ ...style, timeZone: 'UTC' }).format(at)
}

const dateFormats = new Map<string, Intl.DateTimeFormat>()

/** Making a format takes longer than writing a whole list of dates, so each is made once. */
export function dateFormat(style: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const whole = timeZone === undefined ? style : { timeZone, ...style }
  const key = `${locale} ${JSON.stringify(whole)}`
  const kept = dateFormats.get(key) ?? new Intl.DateTimeFormat(locale, whole)
  dateFormats.set(key, kept)
  return kept
}

/** A number with so many digits that count, as the locale writes them. @example saySignificant(0.05, 3) // '0.0500' */
export function saySignificant(value: number, digits: number): string {
  return value.toLocaleString(locale, {
    minimumSignificantDigits: digits,
    maximumSignificantDigits: digits,
    useGrouping: false,
  })
}

/** A number with so many decimals, as the locale writes them. @example sayNumber(1.5, 2) // '1.50', in German '1,50' */
export function sayNumber(value: number, decimals: number): string {
  return value.toLocaleString(locale, {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
    useGrouping: false,
  })
}
