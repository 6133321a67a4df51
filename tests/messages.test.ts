import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { LANGUAGES, languageOf, localeOf } from '../src/messages/languages.js'
import { PROJECT_ROOT } from '../src/project-root.js'

const FOLDER = join(PROJECT_ROOT, 'src/messages')
/** Endings of i18next for numbers, after the categories of CLDR; `zero` may be given in any language. */
const PLURAL = /_(zero|one|two|few|many|other)$/

type Messages = { [key: string]: string | Messages }

function flat(messages: Messages, before = ''): [key: string, text: string][] {
  return Object.entries(messages).flatMap(([key, value]) =>
    typeof value === 'string' ? [[before + key, value]] : flat(value, `${before}${key}.`),
  )
}

const read = (language: string, area: string) =>
  flat(JSON.parse(readFileSync(join(FOLDER, language, `${area}.json`), 'utf8')) as Messages)
const areasOf = (language: string) =>
  readdirSync(join(FOLDER, language))
    .map((file) => file.replace(/\.json$/, ''))
    .sort()
const placeholders = (text: string) => [...text.matchAll(/\{\{\s*(\w+)[^}]*\}\}/g)].map(([, name]) => name!).sort()
/** Languages have forms of their own for numbers: what is said counts, not in how many forms. */
const said = (messages: ReadonlyMap<string, string>) =>
  [...new Set([...messages.keys()].map((key) => key.replace(PLURAL, '')))].sort()
const englishOf = (english: ReadonlyMap<string, string>, key: string) =>
  english.get(key) ?? english.get(key.replace(PLURAL, '_other')) ?? ''
const areas = areasOf('en')

/** The text of every source that may speak. */
const sources = readdirSync(join(PROJECT_ROOT, 'src'), { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
  .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'utf8'))
  .join('\n')

/** A key stands in a source as it is, or the part before a variable does: `verdict.${judgement}`. */
function isUsed(key: string): boolean {
  const bare = key.replace(PLURAL, '')
  if (new RegExp(`['"\`:]${bare.replace(/[.]/g, '\\.')}['"\`]`).test(sources)) return true
  const steps = bare.split('.')
  return steps.some((_, index) => {
    const [head, tail] = [steps.slice(0, index).join('.'), steps.slice(index + 1).join('.')]
    const before = head === '' ? '`${' : `\`${head}.\${`
    const after = tail === '' ? '}`' : `}.${tail}\``
    return sources.includes(before) && sources.includes(after)
  })
}

describe.each(LANGUAGES)('the message files in %s', (language) => {
  it('are of the same areas as the English ones', () => {
    expect(areasOf(language)).toEqual(areas)
  })

  it.each(areas)('say everything of %s that the English ones say, with the same placeholders', (area) => {
    const english = new Map(read('en', area))
    const own = new Map(read(language, area))
    expect(said(own)).toEqual(said(english))
    const unlike = [...own].filter(
      ([key, text]) => `${placeholders(text)}` !== `${placeholders(englishOf(english, key))}`,
    )
    expect(unlike).toEqual([])
    expect([...own].filter(([, text]) => text.trim() === '')).toEqual([])
  })

  // CLDR, as the run-time knows it: one and other are what small whole numbers need in these languages.
  it.each(areas)('have of %s every form that a number needs', (area) => {
    const keys = read(language, area).map(([key]) => key)
    const counted = new Set(keys.filter((key) => PLURAL.test(key)).map((key) => key.replace(PLURAL, '')))
    const rules = new Intl.PluralRules(language)
    const needed = new Set([1, 2, 5, 21].map((count) => rules.select(count)))
    const missing = [...counted].flatMap((key) => [...needed].map((form) => `${key}_${form}`))
    expect(missing.filter((key) => !keys.includes(key))).toEqual([])
  })
})

describe('the words', () => {
  it.each(areas)('of %s are all used', (area) => {
    expect(
      read('en', area)
        .map(([key]) => key)
        .filter((key) => !isUsed(key)),
    ).toEqual([])
  })

  it.each([
    [['de-AT', 'en'], 'de'],
    [['pt-BR', 'fr-CA'], 'fr'],
    [['ja'], 'en'],
    [[], 'en'],
  ] as const)('for %j are in %s', (tags, language) => {
    expect(languageOf(tags)).toBe(language)
  })

  it('keep the reader’s own country for dates, where it speaks the language', () => {
    expect(localeOf('de', ['de-AT', 'en'])).toBe('de-AT')
    expect(localeOf('de', ['en-US'])).toBe('de-DE')
  })
})
