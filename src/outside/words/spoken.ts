import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import i18next, { type TFunction } from 'i18next'
import { LANGUAGES, type Language, languageOf, localeOf } from '../../messages/languages.js'
import { SENTENCE_FORMATS, type Speech } from '../../presentation/sentence-formats.js'
import { PROJECT_ROOT } from '../../project-root.js'

/** Areas of words that are said outside the web app. */
const AREAS = [
  'access',
  'calendar',
  'checks',
  'evidence',
  'findings',
  'galvanic',
  'letters',
  'owner',
  'push',
  'report',
  'words',
] as const

const read = (language: Language, area: string) =>
  JSON.parse(readFileSync(join(PROJECT_ROOT, 'src', 'messages', language, `${area}.json`), 'utf8'))

/** All languages at once: a service speaks to many people in one process. */
const spoken = i18next.createInstance()
void spoken.init({
  lng: 'en',
  fallbackLng: 'en',
  ns: [...AREAS],
  defaultNS: false,
  resources: Object.fromEntries(
    LANGUAGES.map((language) => [language, Object.fromEntries(AREAS.map((area) => [area, read(language, area)]))]),
  ),
  // Nothing is fetched: the words are there when this file is.
  initAsync: false,
  interpolation: { escapeValue: false },
  returnNull: false,
})

for (const [name, format] of Object.entries(SENTENCE_FORMATS)) {
  spoken.services.formatter?.add(name, (value, lng) => format(value, speechOf(languageOf(lng ? [lng] : []))))
}

function speechOf(language: Language): Speech {
  return {
    locale: localeOf(language, []),
    word: (area, key) => spoken.getFixedT(language, area as 'words')(key as 'beyond'),
  }
}

/** The words of an area in a language. */
export function spokenIn<Area extends (typeof AREAS)[number]>(
  language: Language,
  area: Area,
): TFunction<[Area, 'words']> {
  return spoken.getFixedT(language, [area, 'words']) as unknown as TFunction<[Area, 'words']>
}
