import type { PreferencesView } from '../../contract/preferences.js'
import { languageOf } from '../../messages/languages.js'
import { weighIn } from '../wording/amounts.js'
import { tellTimeIn } from '../wording/locale.js'
import { warmIn } from '../wording/temperature.js'
import { keepPreferences, keptPreferences } from './preferences.js'

/** Keeps what the service knows of somebody's preferences in this browser, and goes by it from now on. */
export async function mirror({ language, massUnit, temperatureUnit, timeZone }: PreferencesView): Promise<void> {
  const before = keptPreferences().language
  const chosen = {
    language: language ?? undefined,
    massUnit: massUnit ?? undefined,
    temperatureUnit: temperatureUnit ?? undefined,
    timeZone: timeZone ?? undefined,
  }
  keepPreferences(chosen)
  weighIn(chosen.massUnit)
  warmIn(chosen.temperatureUnit)
  tellTimeIn(chosen.timeZone)
  if (chosen.language === before) return
  // Fetched only here: most people never change it.
  const { follow } = await import('./words.js')
  await follow(chosen.language ?? languageOf(navigator.languages))
}
