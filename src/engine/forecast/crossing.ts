import { normalQuantile } from '../statistics/distributions/normal.js'
import { normalPlusLognormalCdf } from '../statistics/distributions/normal-plus-lognormal.js'
import { whereReached } from '../statistics/where-reached.js'
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

/** Dates are whole days: an exposure is found to this share of itself and a day. */
const LEAST_SHARE_TOLD = 1e-10

/**
 * Exposure by which the threshold is reached with a probability [d]; `Infinity` beyond what can be told apart.
 *
 *     quantile of D_c = D⁻¹(u⋆/K), by one monotone inversion
 *
 * Sought on the scale of log(1 + |D|), on which a lognormal is as wide wherever it lies.
 *
 * @param from no exposure before this one is looked at, and it itself where the threshold lies behind it [d]
 */
export function crossingExposure(input: CrossingInput, probability: number, from = -FARTHEST_EXPOSURE_DAYS): number {
  const at = whereReached(
    (scaled) => crossingProbability(input, exposureOf(scaled)),
    probability,
    { lower: scaledOf(from), upper: scaledOf(FARTHEST_EXPOSURE_DAYS), likely: likelyScaled(input, probability) },
    LEAST_SHARE_TOLD,
  )
  const exposure = Math.max(from, exposureOf(at))
  return at >= scaledOf(FARTHEST_EXPOSURE_DAYS) ? Infinity : exposure
}

/** Quotients of two normals are near enough lognormal to say about where their quantiles lie. */
const LIKELY_SDS = 0.5

function likelyScaled({ remaining, logRate }: CrossingInput, probability: number): readonly [number, number] {
  const middle = scaledOf(remaining.mean / Math.exp(logRate.mean))
  const size = Math.max(Math.abs(remaining.mean), remaining.sd)
  const spread = size > 0 ? Math.hypot(logRate.sd, remaining.sd / size) : 0
  const z = normalQuantile(probability)
  return [middle + (z - LIKELY_SDS) * spread, middle + (z + LIKELY_SDS) * spread]
}

const scaledOf = (exposureDays: number) => Math.sign(exposureDays) * Math.log1p(Math.abs(exposureDays))
const exposureOf = (scaled: number) => Math.sign(scaled) * Math.expm1(Math.abs(scaled))
