import { z } from 'zod'
import { LANGUAGES } from '../messages/languages.js'
import { TimeZone } from './time-zones.js'
import { MASS_UNITS } from './vocabulary.js'

export const TEMPERATURE_UNITS = ['C', 'F'] as const
export type TemperatureUnit = (typeof TEMPERATURE_UNITS)[number]

const CHOICES = {
  language: z.enum(LANGUAGES).nullable().meta({ description: "Null: the browser's" }),
  massUnit: z.enum(MASS_UNITS).nullable().meta({ description: 'Null: grams, and kilograms above one' }),
  temperatureUnit: z.enum(TEMPERATURE_UNITS).nullable().meta({ description: 'Null: degrees Celsius' }),
  timeZone: TimeZone.nullable().meta({ description: "Null: the browser's" }),
}

const EXAMPLE = { language: 'de', massUnit: 'g', temperatureUnit: 'C', timeZone: 'Europe/Berlin' } as const

export const PreferencesView = z.object(CHOICES).meta({
  id: 'Preferences',
  description: 'How a person likes to read: nobody else sees it, and no figure of the API depends on it',
  examples: [EXAMPLE],
})
export type PreferencesView = z.infer<typeof PreferencesView>

export const PreferencesChange = z
  .strictObject(CHOICES)
  .partial()
  .meta({
    id: 'PreferencesChange',
    description: 'What to change; null takes a choice back, what is left out stays.',
    examples: [{ massUnit: 'oz', temperatureUnit: 'F' }],
  })
export type PreferencesChange = z.infer<typeof PreferencesChange>

/** What a program reads, which has no habits. */
export const PREFERENCES_OF_PROGRAMS: PreferencesView = {
  language: 'en',
  massUnit: 'g',
  temperatureUnit: 'C',
  timeZone: 'UTC',
}
