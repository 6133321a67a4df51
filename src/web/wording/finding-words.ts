import type { FINDING_DIRECTIONS } from '../../contract/vocabulary.js'
import english from '../../messages/en/findings.json' with { type: 'json' }
import { likelihoodOf } from '../../presentation/likelihood.js'
import { addEnglish, words } from '../i18n/words.js'
import { isOf, within } from './things.js'

addEnglish('findings', english)

/** The words of findings, which the fleet and the boat show too; a page waits for its area `findings`. */
export const findingWord = words.getFixedT(null, 'findings')

/** A cause by name; one that a newer service knows is said as it is. */
export function sayCause(cause: string): string {
  return isOf(english.cause, cause) ? findingWord(`cause.${cause}.name`) : cause
}

/** A cause in the middle of a sentence. @example sayCauseWithin('passivated') // 'passivated' */
export function sayCauseWithin(cause: string): string {
  return within(sayCause(cause))
}

/** What a cause means, to those who work on it. */
export function causeMeaning(cause: string): string {
  return isOf(english.cause, cause) ? findingWord(`cause.${cause}.meaning`) : ''
}

/** The same to an owner who never held a meter. */
export function causePlain(cause: string): string {
  return isOf(english.cause, cause) ? findingWord(`cause.${cause}.plain`) : `${cause}.`
}

export type Direction = (typeof FINDING_DIRECTIONS)[number]

/** Told by shape, so that colour is never alone. */
export const DIRECTION_SYMBOLS: Readonly<Record<Direction, string>> = { fast: '▲▲', slow: '▽', other: '◆' }

/** @example sayLikelihood(0.81) // 'likely' */
export function sayLikelihood(probability: number): string {
  return findingWord(`likely.${likelihoodOf(probability)}`)
}
