import { OutOfRange } from '../errors.js'
import type { CurvePoint } from '../statistics/least-squares/curve.js'
import { type CurveFit, fitCurve } from '../statistics/least-squares/fit-curve.js'
import { type ProfileLimits, profileLimits } from '../statistics/least-squares/profile-limits.js'
import { crossingCoordinate, crossingCurve, freeLawCurve, lawCurve } from './law-curves.js'

/** A net mass after days in the water. */
export interface DatedMass {
  readonly days: number
  readonly netMassG: number
}

/** When a share of the fitted mass is left. */
export interface LawCrossing {
  readonly days: number
  /** Of the first-order (delta) approximation [d]. */
  readonly sd: number
  /** By profile likelihood [d]. */
  readonly limits: ProfileLimits
}

/** The depletion law with its exponent held, fitted to one anode's masses. */
export interface LawFit {
  readonly exponent: number
  /** m₀ [g] and k [g/d], with their errors, in that order. */
  readonly fit: CurveFit
  readonly logLikelihood: number
  readonly aic: number
  readonly crossing: LawCrossing
}

/** The law with its exponent free: m₀ [g], k [g/d] and q, in that order. */
export interface FreeLawFit {
  readonly fit: CurveFit
  readonly logLikelihood: number
  readonly aic: number
}

/** Level of the limits of a crossing. Convention. */
export const CROSSING_LEVEL = 0.95

/**
 * Fits dm/dt = −k·(m/m₀)^q to the masses of one anode by least squares, m₀ and k free.
 *
 * @param masses three or more, on two different days at least; masses above 0 g, days not negative
 * @param exponent q ≥ 0 [–]
 * @param fractionLeft share of m₀ whose day is asked for, between 0 and 1
 * @throws OutOfRange outside those ranges, or where the masses do not fall
 * @throws NotConverged where no optimum is reached
 * @see docs/model.md, section "Depletion law"
 */
export function fitLaw(masses: readonly DatedMass[], exponent: number, fractionLeft: number): LawFit {
  const coordinate = crossingCoordinate(exponent, fractionLeft)
  const points = pointsOf(masses)
  const fit = fitCurve(lawCurve(exponent), points, startOf(points))
  const [m0, k] = [fit.parameters[0]!, fit.parameters[1]!]
  if (!(k > 0)) throw new OutOfRange('rate of the fitted law', k, 'above 0 g/d: the masses do not fall')
  const days = (coordinate * m0) / k
  // d days = (dm₀/m₀ − dk/k)·days
  const [[v00, v01], [, v11]] = fit.covariance as [[number, number], [number, number]]
  const sd = days * Math.sqrt(Math.max(0, v00 / m0 ** 2 - (2 * v01) / (m0 * k) + v11 / k ** 2))
  const byDay: CurveFit = { ...fit, parameters: [m0, days], se: [fit.se[0]!, sd] }
  const limits =
    sd > 0
      ? profileLimits(crossingCurve(exponent, fractionLeft), points, byDay, { index: 1, level: CROSSING_LEVEL })
      : { lower: days, upper: days }
  return { exponent, fit, ...likelihoodOf(fit, points.length), crossing: { days, sd, limits } }
}

/**
 * The same with q free. Start from a fit with q held, the best of several.
 *
 * @throws OutOfRange for fewer than four masses
 * @throws NotConverged where no optimum is reached
 */
export function fitFreeLaw(masses: readonly DatedMass[], start: LawFit): FreeLawFit {
  const points = pointsOf(masses)
  const fit = fitCurve(freeLawCurve(), points, [...start.fit.parameters, start.exponent])
  return { fit, ...likelihoodOf(fit, points.length) }
}

/** Of normal errors of one size: the sum of squares tells it all. A curve through every point has none. */
function likelihoodOf(fit: CurveFit, n: number): { logLikelihood: number; aic: number } {
  const logLikelihood = (-n / 2) * (Math.log((2 * Math.PI * fit.residualSumOfSquares) / n) + 1)
  return { logLikelihood, aic: 2 * (fit.parameters.length + 1) - 2 * logLikelihood }
}

function pointsOf(masses: readonly DatedMass[]): CurvePoint[] {
  return masses.map(({ days, netMassG }, i) => {
    if (!(days >= 0 && days < Infinity)) throw new OutOfRange(`days of mass ${i}`, days, 'not negative')
    if (!(netMassG > 0 && netMassG < Infinity)) throw new OutOfRange(`net mass ${i}`, netMassG, 'above 0 g')
    return { x: days, y: netMassG }
  })
}

/** The straight line through the first and the last day. */
function startOf(points: readonly CurvePoint[]): [number, number] {
  const byDay = [...points].sort((a, b) => a.x - b.x)
  const [first, last] = [byDay[0], byDay.at(-1)]
  if (first === undefined || last === undefined || first.x === last.x) {
    throw new OutOfRange('days of the masses', first?.x, 'two different ones at least')
  }
  const slope = (first.y - last.y) / (last.x - first.x)
  if (!(slope > 0)) throw new OutOfRange('rate of the masses', slope, 'above 0 g/d: they do not fall')
  return [first.y + slope * first.x, slope]
}
