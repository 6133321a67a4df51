import i18next, { type BackendModule } from 'i18next'
import { initReactI18next } from 'react-i18next'
import { type Language, languageOf, localeOf } from '../../messages/languages.js'
import { writeIn } from '../wording/locale.js'
import { keepPreferences } from './preferences.js'
import { browserTags, wantedTags } from './wanted.js'

/** One file an area and language: each comes with the first page that needs it, and is held for later without a network. */
const FILES = import.meta.glob<Record<string, unknown>>('../../messages/{de,fr,es}/*.json', { import: 'default' })

const files: BackendModule = {
  type: 'backend',
  init: () => undefined,
  async read(language, area, done) {
    const load = FILES[`../../messages/${language}/${area}.json`]
    try {
      done(null, (await load?.()) ?? false)
    } catch (error) {
      // Without it the page is in English, which came along with the page.
      done(error instanceof Error ? error : new Error('the words could not be loaded'), false)
    }
  },
}

/** The words of all pages. English comes with each page, by `addEnglish`; other languages are fetched by area. */
export const words = i18next.createInstance()

void words
  .use(files)
  .use(initReactI18next)
  .init({
    lng: languageOf(wantedTags()),
    fallbackLng: 'en',
    ns: [],
    defaultNS: false,
    resources: {},
    partialBundledLanguages: true,
    interpolation: { escapeValue: false },
    returnNull: false,
  })
announce(languageOf(wantedTags()))

/** Brings an area's English in with the module that speaks it. */
export function addEnglish(area: string, messages: Record<string, unknown>): void {
  words.addResourceBundle('en', area, messages)
}

/** Speaks another language from now on, and at the next start. */
export async function speak(language: Language): Promise<void> {
  keepPreferences({ language })
  await follow(language)
}

/** Speaks another language until the page is closed. */
export async function follow(language: Language): Promise<void> {
  await words.changeLanguage(language)
  announce(language)
}

function announce(language: Language): void {
  if (globalThis.document) document.documentElement.lang = language
  writeIn(localeOf(language, browserTags()))
}
