import type { SaidView } from '../../contract/said.js'
import type { Language } from '../../messages/languages.js'
import { spokenIn } from './spoken.js'

/** A sentence that comes by its code, in a language. */
export type SayIt = (said: SaidView) => string

/** What speaks for and against a cause. @example evidenceIn('de')({ code: 'isolator/none', values: {} }) */
export function evidenceIn(language: Language): SayIt {
  const t = spokenIn(language, 'evidence')
  return ({ code, values }) => t(`evidence.${code}` as 'evidence.onset/later', { ...values })
}

/** A question about the record. */
export function questionIn(language: Language): SayIt {
  const t = spokenIn(language, 'evidence')
  return ({ code, values }) => t(`question.${code}` as 'question.look/conflict', { ...values })
}

/** The sentences of a reason, one after the other. */
export function reasonIn(language: Language): (reasons: readonly SaidView[]) => string {
  const t = spokenIn(language, 'galvanic')
  return (reasons) =>
    reasons.map(({ code, values }) => t(`reason.${code}` as 'reason.water/fresh', { ...values })).join(' ')
}

/** A question of the galvanic audit. */
export function auditQuestionIn(language: Language): SayIt {
  const t = spokenIn(language, 'galvanic')
  return ({ code, values }) => t(`question.${code}` as 'question.water', { ...values })
}
