import { z } from 'zod'

const LONGEST_NAME = 200
const UUID_SHAPE = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i
const CONTROL_CHARACTER = /\p{Cc}/u

/** Whether a path segment is an id; anything else is taken for a name. */
export function looksLikeId(text: string): boolean {
  return UUID_SHAPE.test(text)
}

/** What people call a boat, a berth, a fitting, an anode. Never shaped like an id, since either may stand in a path. */
export const Name = z
  .string()
  .trim()
  .min(1)
  .max(LONGEST_NAME)
  .refine((name) => !CONTROL_CHARACTER.test(name), 'must have no control characters or line breaks')
  // A path's steps of one or two dots are taken out before a server sees them (RFC 3986, 5.2.4).
  .refine((name) => name !== '.' && name !== '..', 'must not be a dot or two: no path could lead there')
  .refine((name) => !looksLikeId(name), 'must not look like an id (a UUID)')

/** A name or an id in a path. */
export const NameOrId = z
  .string()
  .min(1)
  .max(LONGEST_NAME)
  .refine((name) => !CONTROL_CHARACTER.test(name), 'must have no control characters or line breaks')
  .meta({ description: 'Name or id' })

/** What part of a name to look for, in either case. */
export const NamePart = NameOrId.meta({ description: 'Part of the name, upper or lower case' })

/** A day of the dock's calendar. Years before 1900 are slips of the keyboard: no boat in the water has such a record. */
export const Day = z.iso
  .date()
  .refine((day) => day >= '1900-01-01' && day < '2200-01-01', 'must be a date between 1900 and 2199')
  .meta({ examples: ['2031-04-18'] })

/** An instant, in UTC with `Z` or with an offset. */
export const Instant = z.iso
  .datetime({ offset: true })
  .refine((at) => at >= '1900' && at < '2200', 'must be an instant between 1900 and 2199')
  .meta({ examples: ['2031-04-18T09:30:00Z'] })
