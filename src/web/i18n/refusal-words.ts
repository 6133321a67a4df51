import type english from '../../messages/en/refusals.json'
import { languageOf } from '../../messages/languages.js'
import { wantedTags } from './wanted.js'

type Refusals = typeof english
type Key = keyof Refusals
type Said = Extract<Key, `said.${string}`>

const FILES = import.meta.glob<Refusals>('../../messages/{en,de,fr,es}/refusals.json', { import: 'default' })
const SLOT = /\\\{\\\{(\w+)\\\}\\\}/g

/** What the service finds wrong with a field, in the reader's language; what is not known here, as the service says it. */
export type SayRefusal = (detail: string) => string

/**
 * Fetched with the first refusal, so that no page loads it before. The service refuses in English sentences with names and
 * figures in them: each is found by its form, and said by the form of the same key.
 */
export async function refusalWords(): Promise<SayRefusal> {
  const load = (language: string) => FILES[`../../messages/${language}/refusals.json`]?.()
  try {
    const [forms, own] = await Promise.all([load('en'), load(languageOf(wantedTags()))])
    return forms === undefined || own === undefined ? (detail) => detail : sayIn(forms, own)
  } catch {
    // Without a network the service's own sentence is better than nothing.
    return (detail) => detail
  }
}

/** The first form that fits counts: those of one sentence stand before those of many. */
function sayIn(forms: Refusals, own: Refusals): SayRefusal {
  const known = (Object.keys(forms) as Key[]).filter((key): key is Said => key.startsWith('said.'))
  const patterns = known.map((key) => ({ key, pattern: patternOf(forms[key]) }))
  const nameOf = (field: string) => (own as Readonly<Record<string, string>>)[`name.${field}`] ?? field
  return (detail) => {
    for (const { key, pattern } of patterns) {
      const slots = pattern.exec(detail)?.groups
      if (slots === undefined) continue
      return own[key].replaceAll(/\{\{(\w+)\}\}/g, (_, slot: string) =>
        slot === 'field' ? nameOf(slots[slot] ?? '') : (slots[slot] ?? ''),
      )
    }
    return detail
  }
}

/** @example patternOf('{{mass}} is light') // /^(?<mass>.+)\ is\ light$/ */
function patternOf(form: string): RegExp {
  const literal = form.replaceAll(/[\\^$.*+?()[\]{}|/-]/g, '\\$&')
  // An empty group keeps a form without slots one that has groups.
  return new RegExp(`^${literal.replaceAll(SLOT, '(?<$1>.+?)')}$(?<whole>)`, 's')
}
