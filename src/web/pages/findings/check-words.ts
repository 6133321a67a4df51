import { SIGNS_AND_SAFETY } from '../../../engine/reference/signs-and-safety.js'
import english from '../../../messages/en/checks.json' with { type: 'json' }
import { addEnglish, words } from '../../i18n/words.js'
import { isOf } from '../../wording/things.js'

addEnglish('checks', english)

const t = words.getFixedT(null, 'checks')

/** Each says what the service says in English, by the keys it gives; what is not known here stands as the service said it. */
export function sayCheck({ check, title }: { readonly check: string; readonly title: string }): string {
  return isOf(english.title, check) ? t(`title.${check}`) : title
}

/** How a check is made, step by step. */
export function sayHow({ check, how }: { readonly check: string; readonly how: readonly string[] }): readonly string[] {
  return isOf(english.how, check) ? t(`how.${check}`).split('\n') : how
}

/** What an outcome of a check looks like. */
export function sayOutcome(
  check: string,
  { outcome, text }: { readonly outcome: string; readonly text: string },
): string {
  const key = `${check}/${outcome}`
  return isOf(english.outcome, key) ? t(`outcome.${key}`) : text
}

/** A caution, which the service gives by its English sentence alone. */
export function saySafety(text: string): string {
  const key = SIGNS_AND_SAFETY.find((row) => row.text === text)?.key
  return key !== undefined && isOf(english.safety, key) ? t(`safety.${key}`) : text
}
