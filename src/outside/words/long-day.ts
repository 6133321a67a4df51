import { type Language, localeOf } from '../../messages/languages.js'

/**
 * Writes days out, as letters and calendars do.
 *
 * @example longDays('en')('2026-05-04') // '4 May 2026'
 */
export function longDays(language: Language): (day: string) => string {
  const shape = { day: 'numeric', month: 'long', year: 'numeric', timeZone: 'UTC' } as const
  const format = new Intl.DateTimeFormat(localeOf(language, []), shape)
  return (day) => format.format(Date.parse(day))
}
