import type { Language } from '../../../messages/languages.js'

/** Each language in its own words: whoever looks for it reads no other. */
export const LANGUAGE_NAMES: Readonly<Record<Language, string>> = {
  en: 'English',
  de: 'Deutsch',
  fr: 'Français',
  es: 'Español',
}
