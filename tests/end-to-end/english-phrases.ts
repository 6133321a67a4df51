import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { PROJECT_ROOT } from '../../src/project-root.js'

type Messages = { readonly [key: string]: string | Messages }

/** Shorter ones may stand in any language: names, units, signs. */
const FEWEST_WORDS = 3

export const ENGLISH_PHRASES: readonly string[] = phrasesOf('en')

/** The English phrases that a text has. */
export function englishIn(text: string, phrases: readonly string[] = ENGLISH_PHRASES): string[] {
  const plain = text.replace(/\s+/g, ' ')
  return phrases.filter((phrase) => plain.includes(phrase))
}

/** What the message files of a language say between the values and marks of their sentences, where that is three words and more. */
export function phrasesOf(language: string): string[] {
  const folder = join(PROJECT_ROOT, 'src/messages', language)
  const texts = readdirSync(folder).flatMap((file) => textsOf(JSON.parse(readFileSync(join(folder, file), 'utf8'))))
  const pieces = texts.flatMap((text) => text.split(/\{\{[^}]*\}\}|<\/?\d>|\n/)).map((piece) => piece.trim())
  return [...new Set(pieces)].filter((piece) => (piece.match(/\p{L}{2,}/gu) ?? []).length >= FEWEST_WORDS)
}

function textsOf(messages: Messages): string[] {
  return Object.values(messages).flatMap((value) => (typeof value === 'string' ? [value] : textsOf(value)))
}
