/** The languages of the screens, of mail and of paper, as BCP 47 subtags; the first is what everything is written in first. */
export const LANGUAGES = ['en', 'de', 'fr', 'es'] as const
export type Language = (typeof LANGUAGES)[number]

/**
 * The first language of somebody's list that is spoken here.
 *
 * @param tags BCP 47 tags, the best liked first, as a browser gives them
 * @example languageOf(['de-AT', 'en']) // 'de'
 */
export function languageOf(tags: readonly string[]): Language {
  const spoken = tags.flatMap((tag) => LANGUAGES.find((language) => tag.toLowerCase().split('-')[0] === language) ?? [])
  return spoken[0] ?? 'en'
}

/**
 * The locale that dates and numbers are written in: somebody's own where it is of the language that is spoken.
 *
 * @example localeOf('de', ['de-AT', 'en']) // 'de-AT'
 */
export function localeOf(language: Language, tags: readonly string[]): string {
  const own = tags.find((tag) => tag.includes('-') && tag.toLowerCase().split('-')[0] === language)
  return own ?? LOCALES[language]
}

const LOCALES: Readonly<Record<Language, string>> = { en: 'en-GB', de: 'de-DE', fr: 'fr-FR', es: 'es-ES' }
