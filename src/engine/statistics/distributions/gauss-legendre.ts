import { OutOfRange } from '../../errors.js'

const MOST_POINTS = 400
/** Newton's method doubles the digits each time, from three to sixteen and one to spare. */
const NEWTON_STEPS = 6

/**
 * Gauss–Legendre rule Σ weights·f(nodes) for ∫ f over [−1, 1]: exact for polynomials up to degree 2N − 1. Nodes are the zeros of
 * the Legendre polynomial P_N, by Newton's method from cos(π·(i − ¼)/(N + ½)); weights are 2/((1 − x²)·P_N′(x)²).
 *
 * @param points N, a whole number from 1 to 400
 * @returns nodes ascending
 * @throws OutOfRange for another number
 *
 * Source: Abramowitz and Stegun, 25.4.29 and 22.16.6.
 *
 * @example gaussLegendre(2) // nodes ∓1/√3, weights 1, 1
 */
export function gaussLegendre(points: number): {
  readonly nodes: readonly number[]
  readonly weights: readonly number[]
} {
  if (!(Number.isInteger(points) && points >= 1 && points <= MOST_POINTS)) {
    throw new OutOfRange('number of points', points, `a whole number from 1 to ${MOST_POINTS}`)
  }
  const found = Array.from({ length: points }, (_, index) => {
    let x = -Math.cos((Math.PI * (index + 0.75)) / (points + 0.5))
    for (let step = 0; step < NEWTON_STEPS; step++) {
      const { value, slope } = legendre(points, x)
      x -= value / slope
    }
    return { x, weight: 2 / ((1 - x * x) * legendre(points, x).slope ** 2) }
  })
  return { nodes: found.map(({ x }) => x), weights: found.map(({ weight }) => weight) }
}

/** P_N and its derivative, by (n + 1)·P_(n+1) = (2n + 1)·x·P_n − n·P_(n−1). */
function legendre(degree: number, x: number): { value: number; slope: number } {
  let before = 1
  let value = x
  for (let n = 1; n < degree; n++) {
    const next = ((2 * n + 1) * x * value - n * before) / (n + 1)
    before = value
    value = next
  }
  return { value, slope: (degree * (x * value - before)) / (x * x - 1) }
}
