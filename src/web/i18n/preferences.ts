import { z } from 'zod'
import { MASS_UNITS } from '../../contract/vocabulary.js'
import { LANGUAGES } from '../../messages/languages.js'

const KEY = 'preferences'

const Preferences = z.object({
  language: z.enum(LANGUAGES).optional(),
  massUnit: z.enum(MASS_UNITS).optional(),
  temperatureUnit: z.enum(['C', 'F']).optional(),
  timeZone: z.string().optional(),
})
/** How somebody likes to read: mirrored here, so that it holds before signing in and without a network. */
export type Preferences = z.infer<typeof Preferences>

/** What is kept in this browser; what cannot be read (of an older version) counts as nothing. */
export function keptPreferences(): Preferences {
  try {
    return Preferences.parse(JSON.parse(localStorage.getItem(KEY) ?? '{}'))
  } catch {
    return {}
  }
}

export function keepPreferences(part: Preferences): void {
  try {
    localStorage.setItem(KEY, JSON.stringify({ ...keptPreferences(), ...part }))
  } catch {
    // A browser without room or with storage switched off: it holds until the page is closed.
  }
}
