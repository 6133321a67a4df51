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
 * Splits what the fit left over, y − x'β − z'b, into noise of the interval and error of the weighings. With R = S + E the
 * sum of both covariances (S diagonal, E tridiagonal within an anode), Henderson's equations give
 *
 *     P·y = R⁻¹·(y − Xβ − Zb),   e = S·P·y,   Var(e | y) = S − S²·P_ii
 *
 * and P_ii follows from the standardised leave-one-out residuals t = (P·y)_i/√P_ii.
 */
export function latentResiduals(data: MixedModelData, fit: MixedModelFit): LatentResiduals {
  const fitted = fittedValues(data, fit)
  const residual = fit.variances[RESIDUAL]!
  const s = Float64Array.from(data.residualScale ?? data.y.map(() => 1), (scale) => residual * scale)
  const projected = solveTridiagonal(
    s.map((variance, row) => variance + data.errorVariance[row]!),
    data.errorCovariance ?? [],
    data.y.map((value, row) => value - fitted[row]!),
  )
  const standardised = fit.leaveOneOut()
  const noise = projected.map((value, row) => s[row]! * value)
  const noiseVariance = projected.map((value, row) => {
    const t = standardised[row]!
    const diagonal = t === 0 ? 0 : (value / t) ** 2
    return Math.max(0, s[row]! - s[row]! ** 2 * diagonal)
  })
  return { values: noise.map((value, row) => value + fitted[row]!), noise, noiseVariance }
}

/**
 * What each row's residual variance is multiplied by under a Student t: the inverse of its weight given the expected
 * square of its noise.
 */
export function studentScale(
  latent: LatentResiduals,
  residualVariance: number,
  degreesOfFreedom: number,
): Float64Array {
  const standardised = latent.noise.map((noise, row) =>
    Math.sqrt((noise ** 2 + latent.noiseVariance[row]!) / residualVariance),
  )
  return studentWeights(standardised, degreesOfFreedom).map((weight) => 1 / weight)
}

function fittedValues(data: MixedModelData, fit: MixedModelFit): Float64Array {
  const modes = data.random.map(({ name, levels }) => {
    const byLevel = new Map(fit.effects[name]!.map(({ level, mode }) => [level, mode]))
    return levels.map((level) => byLevel.get(level) ?? 0)
  })
  return data.y.map((_, row) => {
    let value = 0
    fit.fixed.forEach(({ estimate }, column) => {
      value += data.fixed[column]![row]! * estimate
    })
    data.random.forEach(({ membership }, term) => {
      for (const { level, weight } of membership[row]!) value += weight * modes[term]![level]!
    })
    return value
  })
}

/** Solves R·x = b where R links only rows that follow one another (Thomas's algorithm; R is positive definite). */
function solveTridiagonal(
  diagonal: Float64Array,
  links: readonly { row: number; other: number; covariance: number }[],
  right: Float64Array,
): Float64Array {
  const n = right.length
  const off = new Float64Array(n)
  for (const { row, other, covariance } of links) off[Math.min(row, other)] = covariance
  const pivot = diagonal.slice()
  const x = right.slice()
  for (let i = 1; i < n; i++) {
    const factor = off[i - 1]! / pivot[i - 1]!
    pivot[i]! -= factor * off[i - 1]!
    x[i]! -= factor * x[i - 1]!
  }
  for (let i = n - 1; i >= 0; i--) x[i] = (x[i]! - (i < n - 1 ? off[i]! * x[i + 1]! : 0)) / pivot[i]!
  return x
}
