import { OutOfRange } from '../../errors.js'

/** More points than this add nothing in double precision: their weights underflow beside the others. */
const MOST_POINTS = 200
/** Halvings of a bracket no wider than a few tens, down to the spacing of doubles. */
const HALVINGS = 60

/** A rule Σ weights·f(nodes) for the mean of f over a standard normal variable. */
export interface GaussHermiteRule {
  /** Ascending. */
  readonly nodes: readonly number[]
  /** Positive; they sum to 1. */
  readonly weights: readonly number[]
}

/**
 * Gauss–Hermite rule for the standard normal weight φ: exact for polynomials up to degree 2N − 1.
 *
 * With the orthonormal polynomials h_k, h₀ = 1, √(k+1)·h_(k+1) = x·h_k − √k·h_(k−1), nodes are the zeros of h_N, found
 * by bisection between those of h_(N−1) (which they enclose), and weights are 1/Σ_(k<N) h_k².
 *
 * @param points N, a whole number from 1 to 200
 * @throws OutOfRange for another number
 *
 * Source: Golub and Welsch, Mathematics of Computation 23 (1969) 221–230 (weights as sums of squares);
 * Abramowitz and Stegun, 22.7 and 25.4.46 with x = z/√2.
 *
 * @example gaussHermite(3) // nodes −√3, 0, √3, weights 1/6, 2/3, 1/6
 */
export function gaussHermite(points: number): GaussHermiteRule {
  if (!(Number.isInteger(points) && points >= 1 && points <= MOST_POINTS)) {
    throw new OutOfRange('number of points', points, `a whole number from 1 to ${MOST_POINTS}`)
  }
  let zeros: number[] = [0]
  for (let degree = 2; degree <= points; degree++) {
    // All zeros of h_N lie within ±2·√N.
    const brackets = [-2 * Math.sqrt(degree), ...zeros, 2 * Math.sqrt(degree)]
    zeros = brackets.slice(1).map((upper, k) => zeroBetween(degree, brackets[k]!, upper))
  }
  const nodes = zeros.map((zero, k) => (zero - zeros[points - 1 - k]!) / 2)
  const weights = nodes.map((x) => 1 / hermite(points, x).squares)
  return { nodes, weights }
}

function zeroBetween(degree: number, lower: number, upper: number): number {
  const sign = Math.sign(hermite(degree, upper).value)
  let low = lower
  let high = upper
  for (let halving = 0; halving < HALVINGS; halving++) {
    const middle = (low + high) / 2
    if (Math.sign(hermite(degree, middle).value) === sign) high = middle
    else low = middle
  }
  return (low + high) / 2
}

/** h_degree(x), and the sum of the squares of the polynomials below it. */
function hermite(degree: number, x: number): { value: number; squares: number } {
  let before = 0
  let value = 1
  let squares = 0
  for (let k = 0; k < degree; k++) {
    squares += value * value
    const next = (x * value - Math.sqrt(k) * before) / Math.sqrt(k + 1)
    before = value
    value = next
  }
  return { value, squares }
}
