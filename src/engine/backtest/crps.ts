import { OutOfRange } from '../errors.js'

/**
 * Continuous ranked probability score of a forecast distribution F against what was observed:
 *
 *     CRPS(F, y) = ∫ (F(x) − 1{x ≥ y})² dx
 *
 * in the unit of y; smaller is better, and a forecast that names one number scores its absolute error. By Gauss's rule of
 * two points on each side of y, so that the step at y is met exactly.
 *
 * @param cdf F, non-decreasing from 0 below `lower` to 1 above `upper`
 * @param observed y
 * @param lower where F is all but 0, finite
 * @param upper where F is all but 1, finite, ≥ lower
 * @param steps intervals a side, ≥ 1
 * @returns the score, ≥ 0
 * @throws OutOfRange for bounds that are not finite or out of order
 * @see Gneiting, Raftery, J. Am. Stat. Assoc. 102 (2007) 359–378, equation 20
 * @example crps((x) => Math.min(1, Math.max(0, x)), 0.5, 0, 1) // uniform on (0, 1) at its middle: 1/12
 */
export function crps(
  cdf: (x: number) => number,
  observed: number,
  lower: number,
  upper: number,
  steps: number = STEPS_A_SIDE,
): number {
  if (!(lower > -Infinity && upper < Infinity && lower <= upper))
    throw new OutOfRange('bounds of the forecast', `${lower}, ${upper}`, 'finite and in order')
  if (!Number.isFinite(observed)) throw new OutOfRange('observation', observed, 'finite')
  const below = integral((x) => cdf(x) ** 2, Math.min(lower, observed), observed, steps)
  const above = integral((x) => (1 - cdf(x)) ** 2, observed, Math.max(upper, observed), steps)
  return below + above
}

/** Enough for three digits of a smooth distribution that fills a tenth of its bounds. */
const STEPS_A_SIDE = 32
/** Gauss's two points within a step, from its middle, in steps (Abramowitz, Stegun, 25.4.30 with n = 2). */
const GAUSS_POINTS = [-0.5 / Math.sqrt(3), 0.5 / Math.sqrt(3)] as const

function integral(of: (x: number) => number, from: number, to: number, steps: number): number {
  if (!(to > from)) return 0
  const width = (to - from) / steps
  let sum = 0
  for (let step = 0; step < steps; step++)
    for (const point of GAUSS_POINTS) sum += of(from + (step + 0.5 + point) * width) / 2
  return sum * width
}
