import type { NormalPlusLognormal } from '../statistics/distributions/normal-plus-lognormal.js'
import type { FilteredConsumption } from './filtered-mass.js'
import { logRateUntil, type Paced, type PacedRate, pacedExposure } from './paced-exposure.js'

/** What of an outlook its losses are worked out from. */
export interface PacedLoss extends Paced, PacedRate {
  readonly last: FilteredConsumption
  /** Of the last consumption with the log rate [g]; absent in forecasts that took them as independent. */
  readonly covariance?: number | undefined
}

/** Beyond this the one decides the other, and the formulas lose their digits. */
const LARGEST_CORRELATION = 0.98

/** Of two quantities with these standard deviations. */
export function correlationOf(covariance: number, sd: number, otherSd: number): number {
  const both = sd * otherSd
  if (!(both > 0)) return 0
  return Math.max(-LARGEST_CORRELATION, Math.min(LARGEST_CORRELATION, covariance / both))
}

/**
 * Consumption by a day from the last weighing on: what was lost by then, normal, and what the rate has taken since.
 *
 * @param errorVariance of a weighing on that day, where its reading is meant [g²]
 */
export function lossUntil(outlook: PacedLoss, day: number, errorVariance = 0): NormalPlusLognormal {
  const { last } = outlook
  const factor = pacedExposure(outlook, day)
  const { mean: logMean, sd: logSd } = logRateUntil(outlook, day, factor)
  const sd = Math.sqrt(last.variance + errorVariance)
  return {
    mean: last.consumption,
    sd,
    logMean,
    logSd,
    factor,
    correlation: correlationOf(outlook.covariance ?? 0, sd, logSd),
  }
}
