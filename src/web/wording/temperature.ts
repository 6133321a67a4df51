import { keptPreferences } from '../i18n/preferences.js'
import { currentLocale } from './locale.js'

export type TemperatureUnit = 'C' | 'F'

let unit: TemperatureUnit = keptPreferences().temperatureUnit ?? 'C'

/** Says temperatures in another unit from now on; undefined: degrees Celsius. */
export function warmIn(next: TemperatureUnit | undefined): void {
  unit = next ?? 'C'
}

/** The unit that its reader thinks in. */
export const temperatureUnit = (): TemperatureUnit => unit

/** @param celsius [°C] @returns in the reader's unit */
export const inReadersDegrees = (celsius: number): number => (unit === 'C' ? celsius : (celsius * 9) / 5 + 32)

/** @param degrees in the reader's unit @returns [°C] */
export const toCelsius = (degrees: number): number => (unit === 'C' ? degrees : ((degrees - 32) * 5) / 9)

/** A temperature to the degree. @example sayTemperature(12) // '12 °C', in Fahrenheit '54 °F' */
export function sayTemperature(celsius: number): string {
  return `${Math.round(inReadersDegrees(celsius)).toLocaleString(currentLocale())} °${unit}`
}
