import { bisectIncreasing, normalPlusLognormalCdf } from '../statistics/distributions/normal-plus-lognormal.js'

/** What is left to consume until the threshold, and how fast it goes. */
export interface CrossingInput {
  /** Remaining consumption u⋆, normal [g]: negative where the threshold lies behind. */
  readonly remaining: { readonly mean: number; readonly sd: number }
  /** Log of the rate K, normal [log g/d]. */
  readonly logRate: { readonly mean: number; readonly sd: number }
}

/** Exposure beyond which nothing is told apart [d]: some 270 years. */
const FARTHEST_EXPOSURE_DAYS = 1e5

/**
 * Probability that the threshold is reached within an exposure from the last weighing: D_c = u⋆/K ≤ D.
 *
 *     D ≥ 0: P(u⋆ ≤ K·D) = 1 − P(K·D − u⋆ ≤ 0);   D < 0: P(u⋆ ≤ −K·|D|)
 *
 * Increasing in D, so that dates and risks come from one curve.
 *
 * @param exposureDays D [d]
 */
export function crossingProbability({ remaining, logRate }: CrossingInput, exposureDays: number): number {
  const rate = { logMean: logRate.mean, logSd: logRate.sd, factor: Math.abs(exposureDays), sd: remaining.sd }
  return exposureDays >= 0
    ? 1 - normalPlusLognormalCdf({ ...rate, mean: -remaining.mean }, 0)
    : normalPlusLognormalCdf({ ...rate, mean: remaining.mean }, 0)
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
