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
 * @param category coating by the practice's categories, near the surface (0–30 m)
 * @param years years t ≥ 0 [a]
 * @returns factors [–]
 * @throws OutOfRange for a negative time
 * @see reference `rp-b401`, 6.4 and Table 10-4; `bracelet-sheet`
 * @example coatingFactors('I', 15) // { initial: 0.1, mean: 0.73, final: 1 }
 */
export function coatingFactors(category: CoatingCategory, years: number): CoatingFactors {
  if (!(years >= 0 && years < Infinity)) throw new OutOfRange('coating age', years, 'at least 0 years')
  const { a, bPerYear } = coatingNearSurface(category)
  const grown = a + bPerYear * years
  if (grown <= 1) return { initial: a, mean: a + (bPerYear * years) / 2, final: grown }
  return { initial: a, mean: 1 - (1 - a) ** 2 / (2 * bPerYear * years), final: 1 }
}
