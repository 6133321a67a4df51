import { OutOfRange } from '../../errors.js'
import { whereReached } from '../where-reached.js'
import { type GaussHermiteRule, gaussHermite } from './gauss-hermite.js'
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
/** Nodes of a weight below this add nothing to a probability. */
const LEAST_WEIGHT = 1e-14
const RULE = weightyPart(gaussHermite(NODES))

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
  for (let i = 0; i < RULE.nodes.length; i++)
    probability += RULE.weights[i]! * below(mean + sd * RULE.nodes[i]!, RULE.nodes[i]!)
  return Math.min(1, probability)
}

/**
 * The value that the sum stays below with a probability: the inverse of the above.
 *
 * @param probability in (0, 1)
 * @throws OutOfRange outside that range
 */
export function normalPlusLognormalQuantile(sum: NormalPlusLognormal, probability: number): number {
  const z = normalQuantile(probability)
  if (sum.factor === 0) return sum.mean + z * sum.sd
  if (sum.sd === 0) return sum.mean + sum.factor * Math.exp(sum.logMean + z * sum.logSd)
  const reach = FAR_SDS * sum.sd
  const middle = sum.factor * Math.exp(sum.logMean)
  const spread = Math.hypot(sum.sd, middle * sum.logSd)
  const bounds = {
    lower: sum.mean - reach,
    upper: sum.mean + reach + sum.factor * Math.exp(sum.logMean + FAR_SDS * sum.logSd),
    likely: [z - LIKELY_SDS, z + LIKELY_SDS].map((sds) => sum.mean + middle + sds * spread) as [number, number],
  }
  return whereReached((x) => normalPlusLognormalCdf(sum, x), probability, bounds, LEAST_SHARE_TOLD * spread)
}

/** Beyond this many standard deviations a double knows no probability. */
const FAR_SDS = 9
/** Quantiles of the normal of that width are mostly no further off. */
const LIKELY_SDS = 0.5
/** Of its spread, to which a quantile is found: beyond the digits of the quadrature. */
const LEAST_SHARE_TOLD = 1e-10
function stepOrNormal(distance: number, sd: number): number {
  if (sd === 0) return distance >= 0 ? 1 : 0
  return normalCdf(distance / sd)
}

function weightyPart({ nodes, weights }: GaussHermiteRule): GaussHermiteRule {
  const isWeighty = (_: number, i: number) => weights[i]! >= LEAST_WEIGHT
  return { nodes: nodes.filter(isWeighty), weights: weights.filter(isWeighty) }
}
