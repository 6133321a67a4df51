import type { RateModel } from '../rates/rate-model.js'
import { RESIDUAL_DEGREES_OF_FREEDOM } from '../rates/rate-priors.js'
import { normalQuantile } from '../statistics/distributions/normal.js'
import { studentQuantile } from '../statistics/distributions/student-t.js'
import { RESIDUAL } from '../statistics/mixed-model/types.js'

/** Between the ends of the two intervals reported, 90 and 95 %: there the normal stands in for the Student t. */
const MATCHED_PROBABILITY = 0.925

/**
 * Variance of the log rate's noise over a new interval. The noise was fitted as a Student t; the normal that predicts it has
 * the same points between the ends of the 80 and the 90 % interval: a little wide for the one, a little narrow for the other.
 */
export function predictiveNoiseVariance(model: Pick<RateModel, 'variances'>): number {
  const widening =
    studentQuantile(MATCHED_PROBABILITY, RESIDUAL_DEGREES_OF_FREEDOM) / normalQuantile(MATCHED_PROBABILITY)
  return model.variances[RESIDUAL]! * widening ** 2
}
