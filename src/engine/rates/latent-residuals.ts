import type { MixedModelData, MixedModelFit } from '../statistics/mixed-model/types.js'
import { RESIDUAL } from '../statistics/mixed-model/types.js'
import { studentWeights } from '../statistics/student-weights.js'

/** The log rate of each row with its own noise, and that noise with its uncertainty. */
export interface LatentResiduals {
  /** Mode of x'β + z'b + e. */
  readonly values: Float64Array
  /** Mode of e. */
  readonly noise: Float64Array
  /** Variance of e given the data. */
  readonly noiseVariance: Float64Array
}

/**
 * Splits what the fit left over, y − x'β − z'b, into noise of the interval and error of the weighings. With S the covariance
 * of the noise (diagonal) and E that of the errors, Henderson's equations give
 *
 *     y − Xβ − Zb = (S + E)·P·y,   e = S·P·y,   Var(e | y) = S − S²·P_ii
 *
 * so that the log rate with its own noise is y less the error of the weighings, y − E·P·y.
 */
export function latentResiduals(data: MixedModelData, fit: MixedModelFit): LatentResiduals {
  const { py, diagonal } = fit.projected()
  const residual = fit.variances[RESIDUAL]!
  const s = Float64Array.from(data.residualScale ?? data.y.map(() => 1), (scale) => residual * scale)
  const values = data.y.map((value, row) => value - data.errorVariance[row]! * py[row]!)
  for (const { row, other, covariance } of data.errorCovariance ?? []) {
    values[row]! -= covariance * py[other]!
    values[other]! -= covariance * py[row]!
  }
  return {
    values,
    noise: s.map((variance, row) => variance * py[row]!),
    noiseVariance: s.map((variance, row) => Math.max(0, variance - variance ** 2 * diagonal[row]!)),
  }
}

/**
 * What each row's residual variance is multiplied by under a Student t: the share that its exposure gives it, over its weight
 * given the expected square of its noise.
 */
export function studentScale(
  latent: LatentResiduals,
  residualVariance: number,
  exposureShare: Float64Array,
  degreesOfFreedom: number,
): Float64Array {
  const standardised = latent.noise.map((noise, row) =>
    Math.sqrt((noise ** 2 + latent.noiseVariance[row]!) / (residualVariance * exposureShare[row]!)),
  )
  return studentWeights(standardised, degreesOfFreedom).map((weight, row) => exposureShare[row]! / weight)
}
