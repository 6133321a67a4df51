import type { SaidView } from '../../contract/said.js'
import english from '../../messages/en/galvanic.json' with { type: 'json' }
import { addEnglish, words } from '../i18n/words.js'
import '../i18n/sentence-values.js'
import { isOf } from './things.js'

addEnglish('galvanic', english)

/** The words of metals, pairs and potentials; a page waits for its area `galvanic`. */
export const galvanicWord = words.getFixedT(null, 'galvanic')

interface Reasoned {
  readonly reasons: readonly SaidView[]
  /** The same in the service's English. */
  readonly reason: string
}

/** A reason, sentence by sentence; as the service said it where it has one that is not known here. */
export function sayReason({ reasons, reason }: Reasoned): string {
  return reasons.every(({ code }) => isOf(english.reason, code)) ? sayReasons(reasons) : reason
}

/** A reason that was worked out here. */
export function sayReasons(reasons: readonly SaidView[]): string {
  return reasons
    .map(({ code, values }) => galvanicWord(`reason.${code}` as 'reason.water/fresh', { ...values }))
    .join(' ')
}
