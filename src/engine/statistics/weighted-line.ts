import { OutOfRange } from '../errors.js'
import { normalQuantile } from './distributions/normal.js'
import { studentQuantile } from './distributions/student-t.js'

/** A point with the standard deviation of its y. */
export interface LinePoint {
  readonly x: number
  readonly y: number
  readonly sd: number
}

/**
 * What the standard deviations of the points mean: `relative` errors are right up to a common factor, which is
 * estimated (Student quantiles); `known` errors are taken as they are (normal quantiles).
 */
export type ErrorKind = 'relative' | 'known'

/** A weighted straight line y = intercept + slope·x. */
export interface WeightedLine {
  readonly intercept: number
  readonly slope: number
  readonly errors: ErrorKind
  /** √(Σ r²/sd²/(n − 2)) for relative errors, 1 for known ones. */
  readonly scale: number
  /** n − 2. */
  readonly degreesOfFreedom: number
  /** Weighted mean of x, where intercept-at-mean and slope are uncorrelated. */
  readonly meanX: number
  readonly varianceAtMean: number
  readonly varianceOfSlope: number
  /** Of [intercept, slope]. */
  readonly covariance: readonly [readonly [number, number], readonly [number, number]]
}

/** Estimate at one x with the limits of the mean and of one new observation. */
export interface LineBand {
  readonly fit: number
  readonly se: number
  readonly confidence: readonly [number, number]
  readonly prediction: readonly [number, number]
}

/**
 * Set of x that a level of confidence leaves for a crossing. `bounded`: between the limits; `outside`: below the
 * lower or above the upper one, for the slope is not distinguishable from zero; `everywhere`: no x is excluded.
 */
export type CrossingLimits =
  | { readonly kind: 'bounded' | 'outside'; readonly lower: number; readonly upper: number; readonly g: number }
  | { readonly kind: 'everywhere'; readonly g: number }

/**
 * Weighted least-squares line, weights 1/sd².
 *
 * @param points at least 2, and 3 for relative errors; at two different x at least; sd > 0
 * @throws OutOfRange where they are too few, all at one x, or not finite
 *
 * Source: Draper and Smith, Applied Regression Analysis, 3rd ed. (1998), ch. 1 and 9.
 *
 * @example fitWeightedLine([{ x: 0, y: 1, sd: 1 }, { x: 1, y: 3, sd: 1 }], 'known').slope // 2
 */
export function fitWeightedLine(points: readonly LinePoint[], errors: ErrorKind): WeightedLine {
  const degreesOfFreedom = points.length - 2
  const least = errors === 'relative' ? 3 : 2
  if (points.length < least) throw new OutOfRange('number of points', points.length, `at least ${least}`)
  checkPoints(points)
  const weights = points.map(({ sd }) => 1 / (sd * sd))
  const total = sum(weights)
  const meanX = sum(points.map(({ x }, i) => weights[i]! * x)) / total
  const meanY = sum(points.map(({ y }, i) => weights[i]! * y)) / total
  const spread = sum(points.map(({ x }, i) => weights[i]! * (x - meanX) ** 2))
  if (!(spread > 0)) throw new OutOfRange('x of the points', meanX, 'at least two different values')
  const slope = sum(points.map(({ x, y }, i) => weights[i]! * (x - meanX) * (y - meanY))) / spread
  const squares = sum(points.map(({ x, y }, i) => weights[i]! * (y - meanY - slope * (x - meanX)) ** 2))
  const scale = errors === 'relative' ? Math.sqrt(squares / degreesOfFreedom) : 1
  const varianceOfSlope = scale ** 2 / spread
  const varianceAtMean = scale ** 2 / total
  const between = -meanX * varianceOfSlope
  return {
    intercept: meanY - slope * meanX,
    slope,
    errors,
    scale,
    degreesOfFreedom,
    meanX,
    varianceAtMean,
    varianceOfSlope,
    covariance: [
      [varianceAtMean + meanX ** 2 * varianceOfSlope, between],
      [between, varianceOfSlope],
    ],
  }
}

function checkPoints(points: readonly LinePoint[]): void {
  points.forEach(({ x, y, sd }, i) => {
    if (!Number.isFinite(x)) throw new OutOfRange(`x of point ${i}`, x, 'finite')
    if (!Number.isFinite(y)) throw new OutOfRange(`y of point ${i}`, y, 'finite')
    if (!(sd > 0 && Number.isFinite(sd))) throw new OutOfRange(`sd of point ${i}`, sd, 'above 0 and finite')
  })
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}

/** Two-sided quantile of a line: Student's for relative errors, normal for known ones. */
function quantileOf(line: WeightedLine, level: number): number {
  if (!(level > 0 && level < 1)) throw new OutOfRange('confidence level', level, 'between 0 and 1')
  const lower = (1 - level) / 2
  return line.errors === 'relative' ? -studentQuantile(lower, line.degreesOfFreedom) : -normalQuantile(lower)
}

/**
 * Value of the line at x with pointwise limits.
 *
 * @param level two-sided, between 0 and 1 [–]
 * @param newSd standard deviation of the new observation, in the terms of the points; 0 for the mean itself
 * @throws OutOfRange outside those ranges
 *
 * Source: Draper and Smith (1998), 3.1.
 */
export function lineBand(line: WeightedLine, x: number, level: number, newSd: number): LineBand {
  if (!Number.isFinite(x)) throw new OutOfRange('x', x, 'finite')
  if (!(newSd >= 0)) throw new OutOfRange('sd of a new observation', newSd, 'not negative')
  const quantile = quantileOf(line, level)
  const fit = line.intercept + line.slope * x
  const variance = line.varianceAtMean + (x - line.meanX) ** 2 * line.varianceOfSlope
  const se = Math.sqrt(variance)
  const wide = quantile * Math.sqrt(variance + (line.scale * newSd) ** 2)
  return { fit, se, confidence: [fit - quantile * se, fit + quantile * se], prediction: [fit - wide, fit + wide] }
}

/**
 * Where the line meets a value of y, with the standard deviation of the first-order (delta) approximation.
 *
 * @throws OutOfRange for a line without slope
 * @example crossing(line, 620) // { x, sd }
 */
export function lineCrossing(line: WeightedLine, value: number): { x: number; sd: number } {
  if (line.slope === 0) throw new OutOfRange('slope', line.slope, 'different from 0')
  const x = (value - line.intercept) / line.slope
  const variance = line.varianceAtMean + (x - line.meanX) ** 2 * line.varianceOfSlope
  return { x, sd: Math.sqrt(variance) / Math.abs(line.slope) }
}

/**
 * Confidence set of the x at which the line meets a value: all x with
 *
 *     (a + b·x − value)² ≤ q²·(Var(a + b·x) + (scale·newSd)²)
 *
 * bounded when g = q²·Var(b)/b² < 1. With `newSd` 0 the crossing of the mean line (Fieller); above 0 the x at which one
 * new observation would read the value (inverse prediction).
 *
 * Source: Fieller, J. R. Stat. Soc. B 16 (1954) 175–185; Draper and Smith (1998), 3.2.
 *
 * @returns with g, infinite where the slope is exactly zero
 * @throws OutOfRange for a level outside 0 to 1, a negative sd, a value that is not finite, a line known to be flat
 */
export function crossingLimits(line: WeightedLine, value: number, level: number, newSd: number): CrossingLimits {
  if (!Number.isFinite(value)) throw new OutOfRange('value to be met', value, 'finite')
  if (!(newSd >= 0)) throw new OutOfRange('sd of a new observation', newSd, 'not negative')
  if (line.slope === 0 && line.varianceOfSlope === 0) throw new OutOfRange('slope', 0, 'different from 0')
  const square = quantileOf(line, level) ** 2
  // In t = x − meanX the two coefficients are uncorrelated: A·t² + 2·B·t + C ≤ 0.
  const above = line.intercept + line.slope * line.meanX - value
  const a = line.slope ** 2 - square * line.varianceOfSlope
  const b = line.slope * above
  const c = above ** 2 - square * (line.varianceAtMean + (line.scale * newSd) ** 2)
  const g = (square * line.varianceOfSlope) / line.slope ** 2
  const discriminant = b * b - a * c
  if (a === 0 || discriminant < 0) return { kind: 'everywhere', g }
  // The root of the larger size without cancellation, the other from the product of the roots.
  const far = -(b + (b < 0 ? -1 : 1) * Math.sqrt(discriminant))
  const roots = far === 0 ? [0, 0] : [far / a, c / far]
  const [lower, upper] = [Math.min(...roots) + line.meanX, Math.max(...roots) + line.meanX]
  return { kind: a > 0 ? 'bounded' : 'outside', lower, upper, g }
}
