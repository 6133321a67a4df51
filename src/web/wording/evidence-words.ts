import type { SaidView } from '../../contract/said.js'
import english from '../../messages/en/evidence.json' with { type: 'json' }
import { addEnglish, words } from '../i18n/words.js'
import '../i18n/sentence-values.js'
import { isOf } from './things.js'

addEnglish('evidence', english)

const t = words.getFixedT(null, 'evidence')

/** A piece of evidence; one that a newer service knows stands as the service said it. */
export function sayEvidence({ code, values, what }: SaidView & { readonly what: string }): string {
  const isKnown = isOf(english.evidence, code) || isOf(english.evidence, `${code}_other`)
  return isKnown ? t(`evidence.${code}` as 'evidence.onset/later', { ...values }) : what
}

/** A question about the record. */
export function sayRecordQuestion({ code, values, question }: SaidView & { readonly question: string }): string {
  return isOf(english.question, code) ? t(`question.${code}`, { ...values }) : question
}
