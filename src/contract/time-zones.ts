import { z } from 'zod'

/** A time zone by its name in the IANA database. */
export const TimeZone = z
  .string()
  .max(100)
  .refine(isTimeZone, 'must be a time zone of the IANA database, such as Europe/Berlin')
  .meta({ examples: ['Europe/Berlin'] })

function isTimeZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone !== ''
  } catch {
    return false
  }
}
