import type { FINDING_DIRECTIONS } from '../../contract/vocabulary.js'
import english from '../../messages/en/findings.json' with { type: 'json' }
import { t } from '../pages/findings/findings-words.js'
import { isOf, within } from './things.js'

/** A cause by name; one that a newer service knows is said as it is. */
export function sayCause(cause: string): string {
  return isOf(english.cause, cause) ? t(`cause.${cause}.name`) : cause
}

/** A cause in the middle of a sentence. @example sayCauseWithin('passivated') // 'passivated' */
export function sayCauseWithin(cause: string): string {
  return within(sayCause(cause))
}

/** What a cause means, to those who work on it. */
export function causeMeaning(cause: string): string {
  return isOf(english.cause, cause) ? t(`cause.${cause}.meaning`) : ''
}

/** The same to an owner who never held a meter. */
export function causePlain(cause: string): string {
  return isOf(english.cause, cause) ? t(`cause.${cause}.plain`) : `${cause}.`
}

export type Direction = (typeof FINDING_DIRECTIONS)[number]

/** Told by shape, so that colour is never alone. */
export const DIRECTION_SYMBOLS: Readonly<Record<Direction, string>> = { fast: '▲▲', slow: '▽', other: '◆' }

/**
 * Bounds of the words for a probability. Intergovernmental Panel on Climate Change, Fourth Assessment Report (2007),
 * Working Group II, front matter, section F: likelihood of an outcome. "About as likely as not" is split at a half, with
 * "more likely than not" of Working Group I's technical summary.
 */
const LIKELIHOODS = [
  [0.99, 'virtually certain'],
  [0.9, 'very likely'],
  [0.66, 'likely'],
  [0.5, 'more likely than not'],
  [0.33, 'about as likely as not'],
  [0.1, 'unlikely'],
  [0.01, 'very unlikely'],
] as const

export type Likelihood = (typeof LIKELIHOODS)[number][1] | 'exceptionally unlikely'

/** The key of the words for a probability. @example likelihoodOf(0.81) // 'likely' */
export function likelihoodOf(probability: number): Likelihood {
  return LIKELIHOODS.find(([above]) => probability > above)?.[1] ?? 'exceptionally unlikely'
}

/** @example sayLikelihood(0.81) // 'likely' */
export function sayLikelihood(probability: number): string {
  return t(`likely.${likelihoodOf(probability)}`)
}
