import { OutOfRange } from '../../errors.js'
import { gaussHermite } from './gauss-hermite.js'
import { normalCdf, normalQuantile } from './normal.js'

/** A normal quantity plus a multiple of a lognormal one: N + factor·e^L, N and L jointly normal. */
export interface NormalPlusLognormal {
  readonly mean: number
  readonly sd: number
  /** Mean and standard deviation of L. */
  readonly logMean: number
  readonly logSd: number
  /** ≥ 0 */
  readonly factor: number
  /** Of N with L, within (−1, 1): 0 unless given. */
  readonly correlation?: number
}

/** Enough for six digits where the normal part is the narrower one, which it nearly always is. */
const NODES = 48
const RULE = gaussHermite(NODES)

/**
 * Probability that the sum is at most x, by Gauss–Hermite quadrature over the normal part:
 *
 *     P(N + c·e^L ≤ x) = E_N[ Φ((log((x − N)/c) − μ_L − ρ·σ_L·z_N)/(σ_L·√(1 − ρ²))) ],  0 where N ≥ x
 *
 * z_N being N standardised. Exact for sd = 0 (lognormal) and for factor = 0 (normal). No simulation: the same input gives the same digits.
 *
 * @throws OutOfRange for a negative standard deviation or factor, or a correlation of ±1 and beyond
 */
export function normalPlusLognormalCdf(sum: NormalPlusLognormal, x: number): number {
  const { mean, sd, logMean, logSd, factor, correlation = 0 } = sum
  if (!(sd >= 0)) throw new OutOfRange('standard deviation', sd, 'at least 0')
  if (!(logSd >= 0)) throw new OutOfRange('standard deviation of the logarithm', logSd, 'at least 0')
  if (!(factor >= 0)) throw new OutOfRange('factor', factor, 'at least 0')
  if (!(Math.abs(correlation) < 1)) throw new OutOfRange('correlation', correlation, 'between -1 and 1')
  if (factor === 0) return stepOrNormal(x - mean, sd)
  const ownSd = logSd * Math.sqrt(1 - correlation ** 2)
  const below = (normal: number, z: number) =>
    normal >= x ? 0 : stepOrNormal(Math.log((x - normal) / factor) - logMean - correlation * logSd * z, ownSd)
  if (sd === 0) return below(mean, 0)
  let probability = 0
  for (let i = 0; i < NODES; i++) probability += RULE.weights[i]! * below(mean + sd * RULE.nodes[i]!, RULE.nodes[i]!)
  return Math.min(1, probability)
}

/**
 * The value that the sum stays below with a probability: the inverse of the above, by bisection.
 *
 * @param probability in (0, 1)
 * @throws OutOfRange outside that range
 */
export function normalPlusLognormalQuantile(sum: NormalPlusLognormal, probability: number): number {
  const z = normalQuantile(probability)
  if (sum.factor === 0) return sum.mean + z * sum.sd
  if (sum.sd === 0) return sum.mean + sum.factor * Math.exp(sum.logMean + z * sum.logSd)
  const reach = FAR_SDS * sum.sd
  const lower = sum.mean - reach
  const upper = sum.mean + reach + sum.factor * Math.exp(sum.logMean + FAR_SDS * sum.logSd)
  return bisectIncreasing((x) => normalPlusLognormalCdf(sum, x), probability, lower, upper)
}

/** Beyond this many standard deviations a double knows no probability. */
const FAR_SDS = 9
const MOST_HALVINGS = 200

/**
 * Where an increasing function reaches a value, between two bounds; the nearer bound where it does not.
 *
 * @param increasing non-decreasing on [lower, upper]
 */
export function bisectIncreasing(
  increasing: (x: number) => number,
  value: number,
  lower: number,
  upper: number,
): number {
  let low = lower
  let high = upper
  for (let step = 0; step < MOST_HALVINGS; step++) {
    const middle = low + (high - low) / 2
    if (middle <= low || middle >= high) break
    if (increasing(middle) < value) low = middle
    else high = middle
  }
  return high
}

function stepOrNormal(distance: number, sd: number): number {
  if (sd === 0) return distance >= 0 ? 1 : 0
  return normalCdf(distance / sd)
}
