import { MASS_UNITS, type MassUnit } from '../../contract/vocabulary.js'
import { LANGUAGES, type Language } from '../../messages/languages.js'

const KEY = 'preferences'

/** How somebody likes to read: mirrored here, so that it holds before signing in and without a network. */
export interface Preferences {
  readonly language?: Language | undefined
  readonly massUnit?: MassUnit | undefined
  readonly temperatureUnit?: 'C' | 'F' | undefined
  readonly timeZone?: string | undefined
}

/** What is kept in this browser; what cannot be read (of an older version) counts as nothing. */
export function keptPreferences(): Preferences {
  const { language, massUnit, temperatureUnit, timeZone } = kept()
  return {
    language: LANGUAGES.find((each) => each === language),
    massUnit: MASS_UNITS.find((each) => each === massUnit),
    temperatureUnit: (['C', 'F'] as const).find((each) => each === temperatureUnit),
    timeZone: typeof timeZone === 'string' ? timeZone : undefined,
  }
}

function kept(): Readonly<Record<string, unknown>> {
  try {
    const value: unknown = JSON.parse(localStorage.getItem(KEY) ?? '{}')
    return typeof value === 'object' && value !== null ? { ...value } : {}
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
