import { useTranslation } from 'react-i18next'
import english from '../../../messages/en/status.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'
import { currentLocale, dateFormat, sayNumber } from '../../wording/locale.js'

addEnglish('status', english)

/** The words of the status page. */
export function useStatusWords() {
  return useTranslation('status').t
}

const BYTES_PER_MEGABYTE = 1_000_000
const SECONDS_SAID_AS_SECONDS = 90

/** @example sayBytes(48_234_496) // '48 MB' */
export function sayBytes(bytes: number): string {
  const megabytes = bytes / BYTES_PER_MEGABYTE
  return megabytes < 1000 ? `${sayNumber(megabytes, 0)} MB` : `${sayNumber(megabytes / 1000, 1)} GB`
}

/** @example sayDuration(4.2) // '4.2 s' */
export function sayDuration(seconds: number): string {
  if (seconds < SECONDS_SAID_AS_SECONDS) return `${sayNumber(seconds, seconds < 10 ? 1 : 0)} s`
  return `${sayNumber(seconds / 60, 0)} min`
}

export function sayCount(count: number): string {
  return count.toLocaleString(currentLocale())
}

/** With its year: the newest backup may be an old one. @example sayMoment('2031-04-18T09:30:00Z') // '18 Apr 2031, 09:30' */
export function sayMoment(at: string): string {
  const style = { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' } as const
  return dateFormat(style).format(new Date(at))
}
