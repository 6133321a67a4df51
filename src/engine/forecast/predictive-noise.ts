import { noiseScale } from '../rates/noise-memory.js'
import type { RateModel } from '../rates/rate-model.js'
import { RESIDUAL_DEGREES_OF_FREEDOM } from '../rates/rate-priors.js'
import { DAYS_PER_YEAR } from '../rates/season.js'
import { normalQuantile } from '../statistics/distributions/normal.js'
import { studentQuantile } from '../statistics/distributions/student-t.js'
import { RESIDUAL } from '../statistics/mixed-model/types.js'

/** The upper end of the 80 % interval, on which the recommended date rests: there the normal stands in for the Student t. */
const MATCHED_PROBABILITY = 0.9

/**
 * Variance of the log rate's noise over a new interval of an exposure. The noise was fitted as a Student t; the normal that predicts it has
 * the same 80 % interval; its 90 % interval is a little narrower.
 *
 * @param exposureDays a year unless given [d]
 */
export function predictiveNoiseVariance(
  model: Pick<RateModel, 'variances'>,
  exposureDays: number = DAYS_PER_YEAR,
): number {
  const widening =
    studentQuantile(MATCHED_PROBABILITY, RESIDUAL_DEGREES_OF_FREEDOM) / normalQuantile(MATCHED_PROBABILITY)
  return model.variances[RESIDUAL]! * widening ** 2 * noiseScale(exposureDays)
}
