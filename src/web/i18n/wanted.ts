import { keptPreferences } from './preferences.js'

/** The languages that whoever looks would read, the best liked first, as BCP 47 tags; outside a browser none is known. */
export function wantedTags(): readonly string[] {
  const { language } = keptPreferences()
  return language === undefined ? browserTags() : [language]
}

/** What the browser is set to. */
export function browserTags(): readonly string[] {
  return globalThis.navigator?.languages ?? []
}
