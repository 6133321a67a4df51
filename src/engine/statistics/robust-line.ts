import { mean, median, sampleVariance } from 'simple-statistics'
import { NotConverged, OutOfRange } from '../errors.js'
import { checkLinePoints, type XY } from './line-points.js'

/** A straight line that few gross errors do not bend. */
export interface RobustLine {
  readonly intercept: number
  readonly slope: number
}

/** By reweighting: each point counts by its weight, from 0 to 1. */
export interface WeighedLine extends RobustLine {
  readonly scale: number
  readonly se: { readonly intercept: number; readonly slope: number }
  readonly weights: readonly number[]
}

/** Tuned to 95 % of the efficiency of least squares where errors are normal. Huber (1964); Beaton and Tukey (1974). */
const HUBER_BEND = 1.345
const BISQUARE_END = 4.685
/** Median of |z| of a standard normal, as the reference programs round it. */
const NORMAL_MEDIAN = 0.6745

const SETTLED = 1e-13
const MOST_PASSES = 5000
/** A scale below this share of the largest y is that of the arithmetic. */
const ROUNDING = 1e-12
const WITHIN_ROUNDING = 10

/** ψ(u)/u and ψ′(u) of an M-estimate. */
interface Bend {
  readonly weight: (u: number) => number
  readonly slope: (u: number) => number
}

const HUBER: Bend = {
  weight: (u) => (Math.abs(u) <= HUBER_BEND ? 1 : HUBER_BEND / Math.abs(u)),
  slope: (u) => (Math.abs(u) <= HUBER_BEND ? 1 : 0),
}

const BISQUARE: Bend = {
  weight: (u) => (Math.abs(u) < BISQUARE_END ? (1 - (u / BISQUARE_END) ** 2) ** 2 : 0),
  slope: (u) => {
    const inside = 1 - (u / BISQUARE_END) ** 2
    return inside > 0 ? inside * (1 - 5 * (u / BISQUARE_END) ** 2) : 0
  },
}

/**
 * Straight line by Huber's M-estimate: least squares for points within 1.345 scales, the absolute error beyond. The scale is
 * the median of the absolute residuals over 0.6745, estimated anew at each pass.
 *
 * @param points three or more, at two different x at least, finite
 * @throws OutOfRange for other points
 * @throws NotConverged where the weights do not settle
 *
 * Source: Huber, Ann. Math. Stat. 35 (1964) 73–101; standard errors by Huber, Ann. Stat. 1 (1973) 799–821, section 7.
 */
export function huberLine(points: readonly XY[]): WeighedLine {
  return reweighted(points, HUBER)
}

/**
 * The same by Tukey's bisquare: a point beyond 4.685 scales counts nothing. Starts at least squares; where it ends depends on that.
 *
 * Source: Beaton and Tukey, Technometrics 16 (1974) 147–185.
 */
export function bisquareLine(points: readonly XY[]): WeighedLine {
  return reweighted(points, BISQUARE)
}

function reweighted(points: readonly XY[], bend: Bend): WeighedLine {
  checkLinePoints(points, 3)
  let line = leastSquares(
    points,
    points.map(() => 1),
  )
  const negligible = ROUNDING * Math.max(...points.map(({ y }) => Math.abs(y)))
  let lastMove = Infinity
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    const residuals = residualsOf(line, points)
    const scale = median(residuals.map(Math.abs)) / NORMAL_MEDIAN
    // More than half of the points lie on the line: it is theirs.
    if (scale <= negligible) return through(line, residuals, negligible)
    const weights = residuals.map((residual) => bend.weight(residual / scale))
    const next = leastSquares(points, weights)
    const moved = Math.max(...residualsOf(next, points).map((residual, i) => Math.abs(residual - residuals[i]!)))
    line = next
    lastMove = moved / scale
    if (lastMove <= SETTLED) return { ...line, scale, se: errorsOf(line, points, bend), weights }
  }
  throw new NotConverged('the robust line', MOST_PASSES, lastMove)
}

function through(line: RobustLine, residuals: readonly number[], negligible: number): WeighedLine {
  const weights = residuals.map((residual) => (Math.abs(residual) <= WITHIN_ROUNDING * negligible ? 1 : 0))
  return { ...line, scale: 0, se: { intercept: 0, slope: 0 }, weights }
}

function residualsOf({ intercept, slope }: RobustLine, points: readonly XY[]): number[] {
  return points.map(({ x, y }) => y - intercept - slope * x)
}

function leastSquares(points: readonly XY[], weights: readonly number[]): RobustLine {
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const meanX = points.reduce((sum, { x }, i) => sum + weights[i]! * x, 0) / total
  const meanY = points.reduce((sum, { y }, i) => sum + weights[i]! * y, 0) / total
  const spread = points.reduce((sum, { x }, i) => sum + weights[i]! * (x - meanX) ** 2, 0)
  if (!(spread > 0)) throw new OutOfRange('x of the points that count', meanX, 'at least two different values')
  const slope = points.reduce((sum, { x, y }, i) => sum + weights[i]! * (x - meanX) * (y - meanY), 0) / spread
  return { intercept: meanY - slope * meanX, slope }
}

function errorsOf(line: RobustLine, points: readonly XY[], bend: Bend): WeighedLine['se'] {
  const n = points.length
  const residuals = residualsOf(line, points)
  const scale = median(residuals.map(Math.abs)) / NORMAL_MEDIAN
  const bent = residuals.map((residual) => residual * bend.weight(residual / scale))
  const slopes = residuals.map((residual) => bend.slope(residual / scale))
  const share = mean(slopes)
  const correction = 1 + (2 * sampleVariance(slopes)) / (n * share ** 2)
  const sd = (Math.sqrt(bent.reduce((sum, each) => sum + each ** 2, 0) / (n - 2)) * correction) / share
  const meanX = mean(points.map(({ x }) => x))
  const spread = points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0)
  return { intercept: sd * Math.sqrt(1 / n + meanX ** 2 / spread), slope: sd / Math.sqrt(spread) }
}
