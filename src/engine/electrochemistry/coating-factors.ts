import { OutOfRange } from '../errors.js'
import { type CoatingCategory, coatingNearSurface } from '../reference/coating-breakdown.js'

/** Shares of the bare current that a coating lets through: when new, on average over its years, at their end [–]. */
export interface CoatingFactors {
  readonly initial: number
  readonly mean: number
  readonly final: number
}

/**
 * Breakdown factors of a coating over the years since it was new.
 *
 *     f(t) = a + b·t, at most 1; mean over the years a + b·t/2 while f ≤ 1, then 1 − (1 − a)²/(2·b·t)
 *
 * @param coating share a of the bare current when new, 0 to 1 [–], and its growth b ≥ 0 [1/a]
 * @param years years t ≥ 0 [a]
 * @returns factors [–]
 * @throws OutOfRange outside those ranges
 * @see reference `rp-b401`, 6.4; `bracelet-sheet`
 * @example breakdownFactors({ a: 0.02, bPerYear: 0.008 }, 15) // { initial: 0.02, mean: 0.08, final: 0.14 }
 */
export function breakdownFactors({ a, bPerYear }: { a: number; bPerYear: number }, years: number): CoatingFactors {
  if (!(a >= 0 && a <= 1)) throw new OutOfRange('coating factor a', a, 'from 0 to 1')
  if (!(bPerYear >= 0 && bPerYear < Infinity)) throw new OutOfRange('coating factor b', bPerYear, 'at least 0 a year')
  if (!(years >= 0 && years < Infinity)) throw new OutOfRange('coating age', years, 'at least 0 years')
  const grown = a + bPerYear * years
  if (grown <= 1) return { initial: a, mean: a + (bPerYear * years) / 2, final: grown }
  return { initial: a, mean: 1 - (1 - a) ** 2 / (2 * bPerYear * years), final: 1 }
}

/**
 * Breakdown factors of one of the practice's coatings near the surface (0–30 m), where boats float.
 *
 * @param category coating by the practice's categories
 * @param years years since it was new, at least 0 [a]
 * @returns factors [–]
 * @throws OutOfRange for a negative time
 * @see reference `rp-b401`, 6.4 and Table 10-4
 * @example coatingFactors('I', 15) // { initial: 0.1, mean: 0.73, final: 1 }
 */
export function coatingFactors(category: CoatingCategory, years: number): CoatingFactors {
  return breakdownFactors(coatingNearSurface(category), years)
}
