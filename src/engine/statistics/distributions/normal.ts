import erfcinv from '@stdlib/math-base-special-erfcinv'
import cdf from '@stdlib/stats-base-dists-normal-cdf'
import { OutOfRange } from '../../errors.js'

/**
 * Standard normal distribution function Φ(z) = ½·erfc(−z/√2). Accurate in the lower tail to about 1e-12 relative;
 * for the upper tail ask for `normalCdf(-z)`.
 *
 * @param z any number, infinities included
 * @throws OutOfRange for NaN
 * @example normalCdf(-10) // 7.6198530241605e-24
 */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) throw new OutOfRange('standard normal value', z, 'a number')
  return cdf(z, 0, 1)
}

/**
 * Standard normal quantile Φ⁻¹(p) = −√2·erfc⁻¹(2p), which keeps its digits in the lower tail; the upper tail is
 * `-normalQuantile(q)` with q = 1 − p.
 *
 * @param probability 0 < p < 1 [–]
 * @throws OutOfRange outside that range
 * @example normalQuantile(0.975) // 1.959963984540054
 */
export function normalQuantile(probability: number): number {
  if (!(probability > 0 && probability < 1)) throw new OutOfRange('probability', probability, 'between 0 and 1')
  return -Math.SQRT2 * erfcinv(2 * probability)
}

/**
 * Standard normal density φ(z) = exp(−z²/2)/√(2π).
 *
 * @throws OutOfRange for NaN
 * @example normalDensity(0) // 0.3989422804014327
 */
export function normalDensity(z: number): number {
  if (Number.isNaN(z)) throw new OutOfRange('standard normal value', z, 'a number')
  return Math.exp(-(z * z) / 2) / Math.sqrt(2 * Math.PI)
}
