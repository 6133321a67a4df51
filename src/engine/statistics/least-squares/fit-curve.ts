import { Matrix, QrDecomposition } from 'ml-matrix'
import { NotConverged, OutOfRange } from '../../errors.js'
import type { Curve, CurvePoint } from './curve.js'

/** A curve fitted by least squares. */
export interface CurveFit {
  readonly parameters: readonly number[]
  /** Standard errors, by the curve's slopes at the optimum. */
  readonly se: readonly number[]
  readonly covariance: readonly (readonly number[])[]
  readonly residualSumOfSquares: number
  /** √(RSS/(n − p)). */
  readonly residualSd: number
  /** n − p. */
  readonly degreesOfFreedom: number
  readonly iterations: number
}

/** Damping: tenfold up and down, as Marquardt has it; the start lets the first step be nearly that of Gauss and Newton. */
const FIRST_DAMPING = 1e-3
const DAMPING_STEP = 10
const LARGEST_DAMPING = 1e16
const MOST_ITERATIONS = 500
/**
 * Below this share of the residuals lying along the curve's slopes, a step can lessen the sum of squares by its square at most:
 * less than rounding. From there on the share itself tells whether a step was one forward.
 */
const NEAR_OFFSET = 1e-6
const MOST_POLISHING_STEPS = 20
/**
 * Residuals below this share of the points are those of the arithmetic: the curve goes through all points. So is what is left
 * of a column's length once the others are taken off it.
 */
const ROUNDING = 1e-13

/**
 * Nonlinear least squares: minimises Σ (y − f(x; θ))² by damped Gauss–Newton steps (Levenberg and Marquardt),
 *
 *     min over δ of |J·δ − r|² + λ·|D·δ|²,  D the largest norms of J's columns so far,
 *
 * each solved by orthogonal triangles (QR) rather than by normal equations, which would lose half the digits. Steps out of the
 * curve's domain are refused like steps that make the sum of squares grow. It finds the optimum near its start, not the best of
 * several.
 *
 * @param points more than parameters, finite
 * @param start parameters within the curve's domain
 * @throws OutOfRange for too few points, or a start where the curve is not finite
 * @throws NotConverged where no optimum is reached
 *
 * Source: Marquardt, J. Soc. Indust. Appl. Math. 11 (1963) 431–441; Moré, Lecture Notes in Mathematics 630 (1978) 105–116;
 * the offset that ends it: Bates and Watts, Technometrics 23 (1981) 179–183.
 *
 * @example fitCurve(line, [{ x: 0, y: 1 }, { x: 1, y: 3 }, { x: 2, y: 5 }], [0, 1]).parameters // [1, 2]
 */
export function fitCurve(curve: Curve, points: readonly CurvePoint[], start: readonly number[]): CurveFit {
  checkPoints(points, start.length)
  let now = stateAt(curve, points, start)
  if (!Number.isFinite(now.squares)) throw new OutOfRange('start of the fit', start, 'within the domain of the curve')
  const scale = new Float64Array(start.length)
  let damping = FIRST_DAMPING
  for (let iterations = 1; iterations <= MOST_ITERATIONS; iterations++) {
    columnNorms(now.slopes).forEach((norm, j) => {
      scale[j] = Math.max(scale[j]!, norm)
    })
    if (offset(now) < NEAR_OFFSET) return summary(polished(curve, points, now), iterations)
    if (damping > LARGEST_DAMPING) throw new NotConverged('the fit of the curve', iterations, offset(now))
    const next = stateAt(curve, points, stepped(now, scale, damping))
    const isBetter = next.squares <= now.squares
    damping = isBetter ? damping / DAMPING_STEP : damping * DAMPING_STEP
    if (isBetter) now = next
  }
  throw new NotConverged('the fit of the curve', MOST_ITERATIONS, offset(now))
}

/** Steps of Gauss and Newton as long as less of the residuals lies along the slopes after them. */
function polished(curve: Curve, points: readonly CurvePoint[], near: State): State {
  const undamped = new Float64Array(near.slopes.columns)
  let best = near
  for (let step = 0; step < MOST_POLISHING_STEPS; step++) {
    const next = stateAt(curve, points, stepped(best, undamped, 0))
    if (!(next.squares < Infinity && offset(next) < offset(best))) return best
    best = next
  }
  return best
}

interface State {
  readonly parameters: readonly number[]
  /** y − f, a column. */
  readonly residuals: Matrix
  /** ∂f/∂θ, points by parameters. */
  readonly slopes: Matrix
  readonly squares: number
  /** √Σy². */
  readonly size: number
}

function stateAt(curve: Curve, points: readonly CurvePoint[], parameters: readonly number[]): State {
  const values = points.map(({ x }) => curve.at(x, parameters))
  const residuals = Matrix.columnVector(points.map(({ y }, i) => y - values[i]!.value))
  const slopes = new Matrix(values.map(({ gradient }) => [...gradient]))
  const total = residuals.dot(residuals)
  const isInside = Number.isFinite(total) && slopes.to1DArray().every(Number.isFinite)
  const size = Math.hypot(...points.map(({ y }) => y))
  return { parameters, residuals, slopes, squares: isInside ? total : Infinity, size }
}

function columnNorms(matrix: Matrix): number[] {
  return Array.from({ length: matrix.columns }, (_, j) => Math.hypot(...matrix.getColumn(j)))
}

/** A parameter that does nothing here is kept where it is by a damping of its own. */
function stepped({ parameters, slopes, residuals }: State, scale: Float64Array, damping: number): number[] {
  const p = slopes.columns
  const below = Matrix.zeros(p, p)
  for (let j = 0; j < p; j++) below.set(j, j, Math.sqrt(damping) * (scale[j]! || 1))
  const stacked = Matrix.zeros(slopes.rows + p, p)
    .setSubMatrix(slopes, 0, 0)
    .setSubMatrix(below, slopes.rows, 0)
  const right = Matrix.zeros(slopes.rows + p, 1).setSubMatrix(residuals, 0, 0)
  const qr = new QrDecomposition(stacked)
  const step = qr.isFullRank() ? qr.solve(right).getColumn(0) : parameters.map(() => 0)
  return parameters.map((value, j) => value + step[j]!)
}

/** How much of the residuals lies along the slopes, of all of them: nothing at an optimum. */
function offset({ slopes, residuals, squares, size }: State): number {
  if (squares <= (ROUNDING * size) ** 2) return 0
  const { qr, apart } = triangle(slopes)
  const along = qr.orthogonalMatrix.transpose().mmul(residuals).getColumn(0)
  return Math.hypot(...along.filter((_, j) => apart[j])) / Math.sqrt(squares)
}

/** The slopes' triangle, each column brought to length one, and which columns are told apart from those before them. */
function triangle(slopes: Matrix): { norms: number[]; qr: QrDecomposition; apart: boolean[] } {
  const norms = columnNorms(slopes)
  const scaled = Matrix.zeros(slopes.rows, slopes.columns)
  for (let i = 0; i < slopes.rows; i++) {
    for (let j = 0; j < slopes.columns; j++) scaled.set(i, j, norms[j] === 0 ? 0 : slopes.get(i, j) / norms[j]!)
  }
  const qr = new QrDecomposition(scaled)
  const upper = qr.upperTriangularMatrix
  return { norms, qr, apart: norms.map((_, j) => Math.abs(upper.get(j, j)) > ROUNDING) }
}

function summary({ parameters, slopes, squares }: State, iterations: number): CurveFit {
  const degreesOfFreedom = slopes.rows - slopes.columns
  const variance = squares / degreesOfFreedom
  const covariance = inverseCrossProduct(slopes).map((row) => row.map((entry) => entry * variance))
  return {
    parameters,
    se: covariance.map((row, j) => Math.sqrt(row[j]!)),
    covariance,
    residualSumOfSquares: squares,
    residualSd: Math.sqrt(variance),
    degreesOfFreedom,
    iterations,
  }
}

/** (JᵀJ)⁻¹. Infinite where the columns are not told apart. */
function inverseCrossProduct(slopes: Matrix): number[][] {
  const { norms, qr, apart } = triangle(slopes)
  if (apart.includes(false)) return norms.map(() => norms.map(() => Infinity))
  const inverse = inverseTriangle(qr.upperTriangularMatrix)
  const product = inverse.mmul(inverse.transpose())
  return norms.map((a, i) => norms.map((b, j) => product.get(i, j) / (a * b)))
}

function inverseTriangle(upper: Matrix): Matrix {
  const n = upper.rows
  const inverse = Matrix.zeros(n, n)
  for (let column = 0; column < n; column++) {
    for (let row = column; row >= 0; row--) {
      let sum = row === column ? 1 : 0
      for (let k = row + 1; k <= column; k++) sum -= upper.get(row, k) * inverse.get(k, column)
      inverse.set(row, column, sum / upper.get(row, row))
    }
  }
  return inverse
}

function checkPoints(points: readonly CurvePoint[], parameters: number): void {
  if (points.length <= parameters) {
    throw new OutOfRange('number of points', points.length, `more than the ${parameters} parameters`)
  }
  points.forEach(({ x, y }, i) => {
    if (!Number.isFinite(x)) throw new OutOfRange(`x of point ${i}`, x, 'finite')
    if (!Number.isFinite(y)) throw new OutOfRange(`y of point ${i}`, y, 'finite')
  })
}
