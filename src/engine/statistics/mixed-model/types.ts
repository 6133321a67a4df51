/** One random factor: a variance shared by independent effects, one a level. */
export interface RandomTerm {
  readonly name: string
  readonly levels: readonly string[]
  /** Per row: the levels it belongs to with weights (multiple membership); an empty list is not a member. */
  readonly membership: readonly (readonly Membership[])[]
}

/** Share `weight` of the effect of `levels[level]` in a row. */
export interface Membership {
  readonly level: number
  readonly weight: number
}

/**
 * Data of a linear mixed model
 *
 *     y = X·β + Σ_g Z_g·b_g + e,   b_g ~ N(0, σ_g²·I),   Cov(e) = diag(residualScale·σ_res²) + E
 *
 * with a known error covariance E and, where wanted, independent Gaussian priors on β.
 */
export interface MixedModelData {
  readonly y: Float64Array
  readonly fixedNames: readonly string[]
  /** One column of X a name. */
  readonly fixed: readonly Float64Array[]
  /** Mean and precision (1/variance) a column; precision 0 is flat, and its mean is then ignored. */
  readonly fixedPrior?: { readonly mean: readonly number[]; readonly precision: readonly number[] }
  readonly random: readonly RandomTerm[]
  /** Known error variance a row, ≥ 0: the diagonal of E [unit of y, squared]. */
  readonly errorVariance: Float64Array
  /** Off-diagonal entries of E, each pair of rows once. Linked rows are eliminated together, so keep the groups small. */
  readonly errorCovariance?: readonly ErrorCovariance[]
  /** Multiplies the residual variance of a row, > 0; 1 unless given. The scale mixture of heavy tails. */
  readonly residualScale?: Float64Array
}

/** Known covariance between the errors of two rows. */
export interface ErrorCovariance {
  readonly row: number
  readonly other: number
  readonly covariance: number
}

/**
 * Penalty on a standard deviation: none, or the log density of a gamma distribution up to a constant,
 *
 *     log p(sd) = (shape − 1)·log sd − rate·sd,   shape > 1, rate ≥ 0
 *
 * A shape of 1 or less would put the mode at zero whatever the data say.
 *
 * Source: Chung, Rabe-Hesketh, Dorie, Gelman, Liu, Psychometrika 78 (2013) 685–709.
 */
export type VariancePrior =
  | { readonly kind: 'flat' }
  | { readonly kind: 'gamma-sd'; readonly shape: number; readonly rate: number }

/** Key of the residual variance beside the names of the random terms. */
export const RESIDUAL = 'residual'

/** How to fit; each record is keyed by a random term's name or by `residual`. */
export interface FitOptions {
  /** Flat unless given. */
  readonly variancePriors?: Readonly<Record<string, VariancePrior>>
  /** Held at these values, the others are estimated. */
  readonly heldVariances?: Readonly<Record<string, number>>
  /** Where to start; an even split of the variance about the fixed effects unless given. */
  readonly start?: Readonly<Record<string, number>>
  /** Relative error of the variances, as judged by the pace of the steps, at which the search ends; 1e-9 unless given. */
  readonly tolerance?: number
  /**
   * A fit of data with the same (identical) `fixed` and `random` and the same pairs in `errorCovariance`: how its rows were
   * cut into blocks is used again. Changes nothing but the time taken.
   */
  readonly like?: MixedModelFit
}

/** A linear function of fixed and random effects: x'β + Σ weight·b. Terms left out of `random` do not enter. */
export interface LinearTarget {
  readonly fixed: readonly number[]
  readonly random: Readonly<Record<string, readonly { readonly level: string; readonly weight: number }[]>>
}

/** One more row for a fitted model; see `MixedModelFit.withRows`. */
export interface ExtraRow {
  readonly y: number
  readonly target: LinearTarget
  readonly errorVariance: number
  readonly residualScale?: number
  /** Known covariances with rows before it: of the data, or (numbered on from them) of the same call. */
  readonly errorCovariance?: readonly { readonly other: number; readonly covariance: number }[]
}

/** Mean and variance of a prediction; the variance is that of the linear function, without residual or measuring error. */
export interface Prediction {
  readonly mean: number
  readonly variance: number
}

/** A row with its weight in a sum of rows. */
export interface RowWeight {
  readonly row: number
  readonly weight: number
}

/**
 * For contrasts D, one a column: D'Py and D'PD. The estimate of shifts δ of y along D, beside all other effects, is (D'PD)⁻¹·D'Py
 * with the covariance (D'PD)⁻¹; where D picks single rows these are their residuals when all of them are left out.
 */
export interface ProjectedContrasts {
  readonly response: Float64Array
  /** Row by row. */
  readonly precision: Float64Array
}

/** Predicted effect of one level. */
export interface LevelEffect {
  readonly level: string
  readonly mode: number
  /** Given the data, fixed effects held at their estimates. */
  readonly conditionalSd: number
  /** The same counting the error of the fixed effects (Henderson's inverse): the one for intervals. */
  readonly predictionSd: number
}

/** A fitted model, with variances held at their estimates in all that it computes. */
export interface MixedModelFit {
  /** What was fitted, with any rows added since. */
  readonly data: MixedModelData
  readonly variances: Readonly<Record<string, number>>
  readonly fixed: readonly { readonly name: string; readonly estimate: number; readonly se: number }[]
  /** Covariance of the fixed effects, row by row. */
  readonly fixedCovariance: readonly (readonly number[])[]
  /** By term; computed at the first use. */
  readonly effects: Readonly<Record<string, readonly LevelEffect[]>>
  /** −2 × the restricted log-likelihood (marginal over β), constants included, penalties on variances not. */
  readonly remlCriterion: number
  readonly iterations: number
  /**
   * Mean and variance of x'β + Σ weight·b with the joint uncertainty of fixed and random effects. A level that is
   * not in the data is unseen and adds weight²·σ_g². With `withoutRows`, as if those rows had not been seen
   * (exact, variances held; no refit).
   */
  predict(target: LinearTarget, withoutRows?: readonly number[]): Prediction
  /** Each row against its prediction made without it, standardised: (Py)_i / √P_ii; no refit. */
  leaveOneOut(): Float64Array
  /**
   * By row, P·y and the diagonal of P, with P = V⁻¹ − V⁻¹X·(X'V⁻¹X + Λ)⁻¹·X'V⁻¹, V the covariance of y and y less its
   * prior mean; both 0 for a row that alone determines a fixed effect.
   */
  projected(): { readonly py: Float64Array; readonly diagonal: Float64Array }
  /** The same for sums of rows: of what is left over, and how sure it is, by contrast and between them; see `projected`. */
  contrasts(contrasts: readonly (readonly RowWeight[])[]): ProjectedContrasts
  /** The fit with rows added and the variances held; only the blocks that the rows touch are computed again. */
  withRows(rows: readonly ExtraRow[]): MixedModelFit
}
