import { normalQuantile } from '../statistics/distributions/normal.js'
import type { Prediction } from '../statistics/mixed-model/types.js'
import type { AnodeOutlook } from './anode-outlook.js'

/** By anode key: how much faster it goes at present than the fit expects, on the log scale; its mean is at least 0. */
export type PresentRates = ReadonlyMap<string, Prediction>

export const NO_PRESENT_RATES: PresentRates = new Map()

/** The latest quantile of a date that is told: the rate's at one less it. */
const LATEST_TOLD = 0.95

/**
 * An outlook that follows the rate of an open fault, from the last weighing on, in place of the old mean:
 *
 *     log k = log k of the fit + δ,  δ ≥ 0
 *
 * δ comes with its variance. A factor that is at least 1 makes no quantile of a date later; the normal that stands for its log would
 * in the tail, where it is wide. So its variance counts only so far that the date's 95 % quantile is not later than without it:
 *
 *     √(v + v_δ) ≤ √v + δ/z₀.₉₅
 */
export function followPresent(outlook: AnodeOutlook, excess: Prediction | undefined): AnodeOutlook {
  if (excess === undefined) return outlook
  const { logRate, ahead, dueExposureDays, beyondFit } = outlook
  // What its own intervals have told already is not told again.
  const more = excess.mean - Math.max(0, beyondFit)
  if (!(more > 0)) return outlook
  const widened = (variance: number) => {
    const most = (Math.sqrt(variance) + more / normalQuantile(LATEST_TOLD)) ** 2
    return Math.min(variance + excess.variance, most)
  }
  return {
    ...outlook,
    logRate: { mean: logRate.mean + more, variance: widened(logRate.variance) },
    ahead: { ...ahead, variance: widened(ahead.variance) },
    dueExposureDays: dueExposureDays / Math.exp(more),
  }
}
