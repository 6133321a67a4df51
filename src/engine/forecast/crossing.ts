import { bisectIncreasing, normalPlusLognormalCdf } from '../statistics/distributions/normal-plus-lognormal.js'
import type { PassedBy } from './past-crossing.js'

/** What is left to consume until the threshold, and how fast it goes. */
export interface CrossingInput {
  /** Remaining consumption u⋆, normal [g]: negative where the threshold lies behind. */
  readonly remaining: { readonly mean: number; readonly sd: number }
  /** Log of the rate K, normal [log g/d]. */
  readonly logRate: { readonly mean: number; readonly sd: number }
  /** Of the consumption so far with the log rate: 0 unless given. */
  readonly correlation?: number | undefined
  /** Of what lies behind, from the weighings around it; without it the rate is run backwards from the last one. */
  readonly passedBy?: PassedBy | undefined
}

/** Exposure beyond which nothing is told apart [d]: some 270 years. */
const FARTHEST_EXPOSURE_DAYS = 1e5

/**
 * Probability that the threshold is reached within an exposure from the last weighing: D_c = u⋆/K ≤ D.
 *
 *     D ≥ 0: P(u⋆ ≤ K·D) = 1 − P(K·D − u⋆ ≤ 0);   D < 0: P(u⋆ ≤ −K·|D|), or as the weighings before tell
 *
 * Increasing in D, so that dates and risks come from one curve.
 *
 * @param exposureDays D [d]
 */
export function crossingProbability(input: CrossingInput, exposureDays: number): number {
  const { remaining, logRate, correlation = 0, passedBy } = input
  if (exposureDays < 0 && passedBy !== undefined) return passedBy(exposureDays)
  const rate = { logMean: logRate.mean, logSd: logRate.sd, factor: Math.abs(exposureDays), sd: remaining.sd }
  return exposureDays >= 0
    ? 1 - normalPlusLognormalCdf({ ...rate, mean: -remaining.mean, correlation }, 0)
    : normalPlusLognormalCdf({ ...rate, mean: remaining.mean, correlation: -correlation }, 0)
}

/**
 * Exposure by which the threshold is reached with a probability [d]; `Infinity` beyond what can be told apart.
 *
 *     quantile of D_c = D⁻¹(u⋆/K), by one monotone inversion
 */
export function crossingExposure(input: CrossingInput, probability: number): number {
  const at = bisectIncreasing(
    (days) => crossingProbability(input, days),
    probability,
    -FARTHEST_EXPOSURE_DAYS,
    FARTHEST_EXPOSURE_DAYS,
  )
  return at >= FARTHEST_EXPOSURE_DAYS ? Infinity : at
}
