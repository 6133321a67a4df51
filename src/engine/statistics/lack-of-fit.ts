import { OutOfRange } from '../errors.js'
import { fisherUpperTail } from './distributions/beta.js'

/** Whether a curve misses its points by more than repeated points miss each other. */
export interface LackOfFit {
  readonly lackOfFitSquares: number
  readonly lackOfFitFreedom: number
  readonly pureErrorSquares: number
  readonly pureErrorFreedom: number
  readonly f: number
  /** Probability of an F as large where the curve is right: small speaks against the curve. */
  readonly probability: number
}

interface Point {
  readonly x: number
  readonly y: number
}

/**
 * F test of a fitted curve against one mean for each x:
 *
 *     F = [(RSS − PE)/(c − p)] / [PE/(n − c)],  PE = Σ (y − mean at its x)²,  c the number of different x
 *
 * @param points what the curve was fitted to, n of them
 * @param residualSumOfSquares RSS of the fit
 * @param parameters p of the curve
 * @returns `null` where no x is repeated, repeats are all alike, or the curve has a parameter for each x: nothing to test
 * @throws OutOfRange for a sum of squares that is negative
 *
 * Source: Draper and Smith, Applied Regression Analysis, 3rd ed. (1998), 2.1.
 */
export function lackOfFit(
  points: readonly Point[],
  residualSumOfSquares: number,
  parameters: number,
): LackOfFit | null {
  if (!(residualSumOfSquares >= 0)) {
    throw new OutOfRange('residual sum of squares', residualSumOfSquares, 'not negative')
  }
  const byX = new Map<number, number[]>()
  for (const { x, y } of points) byX.set(x, [...(byX.get(x) ?? []), y])
  const pureErrorSquares = [...byX.values()].reduce((sum, own) => sum + squaresAboutMean(own), 0)
  const lackOfFitFreedom = byX.size - parameters
  const pureErrorFreedom = points.length - byX.size
  if (lackOfFitFreedom < 1 || pureErrorFreedom < 1 || pureErrorSquares === 0) return null
  const lackOfFitSquares = Math.max(0, residualSumOfSquares - pureErrorSquares)
  const f = lackOfFitSquares / lackOfFitFreedom / (pureErrorSquares / pureErrorFreedom)
  const probability = fisherUpperTail(f, lackOfFitFreedom, pureErrorFreedom)
  return { lackOfFitSquares, lackOfFitFreedom, pureErrorSquares, pureErrorFreedom, f, probability }
}

function squaresAboutMean(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0)
}
