import { NotConverged, OutOfRange } from '../errors.js'
import { type LackOfFit, lackOfFit } from '../statistics/lack-of-fit.js'
import { type DatedMass, type FreeLawFit, fitFreeLaw, fitLaw, type LawFit } from './fit-law.js'

/** The laws with a reason: constant current, current in proportion to surface, current in proportion to mass. */
export const LAW_EXPONENTS = [0, 2 / 3, 1] as const

export interface ComparedLaw extends LawFit {
  /** Its share of the evidence among the laws held (Akaike weight) [–]. */
  readonly weight: number
  /** Against one mean a day, where days are repeated. */
  readonly lackOfFit: LackOfFit | null
}

export interface LawComparison {
  readonly laws: readonly ComparedLaw[]
  /** `null` for fewer than four masses, or where they do not tell an exponent. */
  readonly free: FreeLawFit | null
}

/**
 * One anode's masses under the laws with a reason, and with the exponent free: which of them the masses speak for.
 *
 * @param masses three or more, on two different days at least; masses above 0 g, days not negative
 * @param fractionLeft share of the fitted mass whose day is asked for, between 0 and 1
 * @throws OutOfRange outside those ranges, or where the masses do not fall
 *
 * Source: weights by Akaike's criterion: Burnham and Anderson, Model Selection and Multimodel Inference, 2nd ed. (2002), 2.9.
 */
export function compareLaws(masses: readonly DatedMass[], fractionLeft: number): LawComparison {
  const fits = LAW_EXPONENTS.map((exponent) => fitLaw(masses, exponent, fractionLeft))
  const best = fits.reduce((a, b) => (b.fit.residualSumOfSquares < a.fit.residualSumOfSquares ? b : a))
  const weights = fits.map(({ fit }) => relativeLikelihood(fit.residualSumOfSquares, best, masses.length))
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const points = masses.map(({ days, netMassG }) => ({ x: days, y: netMassG }))
  const laws = fits.map((law, i) => ({
    ...law,
    weight: weights[i]! / total,
    lackOfFit: lackOfFit(points, law.fit.residualSumOfSquares, law.fit.parameters.length),
  }))
  return { laws, free: freeOrNone(masses, best) }
}

/** Laws with as many parameters compare by likelihood alone: (RSS of the best/RSS)^(n/2). */
function relativeLikelihood(squares: number, { fit }: LawFit, n: number): number {
  return squares === 0 ? 1 : (fit.residualSumOfSquares / squares) ** (n / 2)
}

function freeOrNone(masses: readonly DatedMass[], best: LawFit): FreeLawFit | null {
  if (masses.length < 4) return null
  try {
    const free = fitFreeLaw(masses, best)
    return free.fit.se.every(Number.isFinite) ? free : null
  } catch (error) {
    // Two days alone, or scatter that no exponent explains: an answer by itself.
    if (error instanceof NotConverged || error instanceof OutOfRange) return null
    throw error
  }
}
