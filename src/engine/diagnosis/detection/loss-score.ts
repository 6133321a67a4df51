import { normalQuantile } from '../../statistics/distributions/normal.js'
import { normalPlusLognormalCdf } from '../../statistics/distributions/normal-plus-lognormal.js'

/** What is believed of a loss before it is looked at. */
export interface PredictedLoss {
  /** Mean and variance of the log rate, the interval's own noise left out [log g/d]. */
  readonly logMean: number
  readonly logVariance: number
  /** Square of the scale of that noise, a Student t of `NOISE_DEGREES_OF_FREEDOM`. */
  readonly noiseVariance: number
  /** Variance of the weighings' error [g²]. */
  readonly errorVariance: number
  readonly exposureDays: number
}

/** A score as far out as this says no more than "impossible under the prediction". */
export const LARGEST_SCORE = 8

/**
 * The probability of a loss no larger than the one found, as a normal score: above 0 more was lost than predicted. The noise's
 * Student t is a mixture of normals, so that the probability is a mean of those of a normal error and a lognormal loss, exact to
 * the rule's digits. A larger loss never has a smaller score.
 *
 * @param consumption the loss found [g]
 * @returns within ±`LARGEST_SCORE`
 */
export function lossScore(loss: PredictedLoss, consumption: number): number {
  let probability = 0
  for (const { scale, share } of NOISE_MIXTURE) {
    probability +=
      share *
      normalPlusLognormalCdf(
        {
          mean: 0,
          sd: Math.sqrt(loss.errorVariance),
          logMean: loss.logMean,
          logSd: Math.sqrt(loss.logVariance + scale * loss.noiseVariance),
          factor: loss.exposureDays,
        },
        consumption,
      )
  }
  if (!(probability > 0)) return -LARGEST_SCORE
  if (probability >= 1) return LARGEST_SCORE
  return Math.max(-LARGEST_SCORE, Math.min(LARGEST_SCORE, normalQuantile(probability)))
}

/**
 * Of the noise that a loss is judged by. The fit takes four, to let single rows count for little; to judge by as few makes the rarest loss
 * an ordinary one, for a score then hardly grows with the distance. What shakes a rate lasts weeks, so that the mean of a season has lighter
 * tails than the shocks in it. Convention: of 4, 7, 8 and 10 the one that finds most within the false alarms allowed, on simulated
 * fleets (docs/calibration.md).
 */
const NOISE_DEGREES_OF_FREEDOM = 10

/** Points of the mixture, evenly spaced in the log of the precision from where 1e-9 of it lies below to where none is left above. */
const POINTS = 14
const LOG_PRECISIONS = [-4.8, 1.7] as const

/**
 * A Student t of ν degrees of freedom is a normal whose precision w is drawn from a gamma of mean 1 and shape ν/2: the variance
 * is 1/w. By the trapezoidal rule on log w, which is exact to many digits for a density that vanishes at both ends.
 */
const NOISE_MIXTURE = noiseMixture(NOISE_DEGREES_OF_FREEDOM)

function noiseMixture(degreesOfFreedom: number): readonly { readonly scale: number; readonly share: number }[] {
  const shape = degreesOfFreedom / 2
  const [low, high] = LOG_PRECISIONS
  const points = Array.from({ length: POINTS }, (_, index) => {
    const logPrecision = low + ((high - low) * index) / (POINTS - 1)
    const precision = Math.exp(logPrecision)
    return { scale: 1 / precision, share: Math.exp(shape * (logPrecision - precision)) }
  })
  const whole = points.reduce((sum, { share }) => sum + share, 0)
  return points.map(({ scale, share }) => ({ scale, share: share / whole }))
}
