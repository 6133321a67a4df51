import { OutOfRange } from '../../errors.js'
import { factorInPlace, inverseFromFactor, logDeterminant } from '../linear-algebra/cholesky.js'
import type { BlockSums } from './block-sums.js'
import type { BlockedModel } from './blocks.js'

/** Henderson's equations of (β, global effects) after the blocks are eliminated. */
export interface SmallSystem {
  /**
   * S·C⁻¹·S with C = S·W'V⁻¹W·S + diag(prior precisions, 1) and S = diag(1, σ of each global effect), bordered by a
   * zero row and column for y. It is the covariance matrix of the errors of (β, global effects), and stays finite
   * when a variance is zero.
   */
  readonly covariance: Float64Array
  /** Centred fixed effects and global effects. */
  readonly solution: Float64Array
  /** −2 × restricted log-likelihood. */
  readonly criterion: number
}

/**
 * Solves the small system.
 *
 *     −2·log L = (n − flat)·log 2π + log|V| + log|X'V⁻¹X + Λ| − Σ log λ + y'Py
 *
 * with Λ = diag(λ) the prior precisions, `flat` the number of fixed effects without a prior, the sum over those with
 * one (the density of y after β is integrated out), and log|V| + log|X'V⁻¹X + Λ| = Σ log|V_block| + log|C|.
 *
 * @param variances by component
 * @returns undefined when C is not positive definite
 */
export function solveSmallSystem(
  model: BlockedModel,
  sums: BlockSums,
  variances: readonly number[],
): SmallSystem | undefined {
  const { order } = model
  const scale = effectScales(model, variances)
  const factor = scaledEquations(model, sums, scale, 0)
  if (factorInPlace(factor, order) >= 0) return undefined
  const inverse = inverseFromFactor(factor, order)
  const covariance = new Float64Array((order + 1) ** 2)
  const solution = new Float64Array(order)
  let explained = 0
  for (let i = 0; i < order; i++) {
    for (let j = 0; j < order; j++) {
      const entry = scale[i]! * inverse[i * order + j]! * scale[j]!
      covariance[i * (order + 1) + j] = entry
      solution[i]! += entry * sums.cross[j * (order + 1) + order]!
    }
    explained += solution[i]! * sums.cross[i * (order + 1) + order]!
  }
  const quadratic = sums.cross[(order + 1) ** 2 - 1]! - explained
  let criterion = (model.rowCount - model.flatCount) * Math.log(2 * Math.PI) + quadratic
  criterion += sums.logDeterminant + logDeterminant(factor, order)
  for (const own of model.precision) if (own > 0) criterion -= Math.log(own)
  return { covariance, solution, criterion }
}

/** C from row and column `first` on. */
function scaledEquations(model: BlockedModel, sums: BlockSums, scale: Float64Array, first: number): Float64Array {
  const order = model.order - first
  const equations = new Float64Array(order * order)
  for (let i = 0; i < order; i++) {
    const row = (first + i) * (model.order + 1) + first
    for (let j = 0; j < order; j++)
      equations[i * order + j] = scale[first + i]! * sums.cross[row + j]! * scale[first + j]!
    equations[i * order + i]! += first + i < model.fixedCount ? model.precision[first + i]! : 1
  }
  return equations
}

/**
 * Covariance of the global effects with the fixed effects held, bordered like `SmallSystem.covariance`; the rows and
 * columns of the fixed effects are zero.
 */
export function conditionalCovariance(
  model: BlockedModel,
  sums: BlockSums,
  variances: readonly number[],
): Float64Array {
  const { order, fixedCount } = model
  const count = order - fixedCount
  const scale = effectScales(model, variances)
  const factor = scaledEquations(model, sums, scale, fixedCount)
  if (factorInPlace(factor, count) >= 0)
    throw new OutOfRange('equations of the effects', 'singular', 'positive definite')
  const inverse = inverseFromFactor(factor, count)
  const covariance = new Float64Array((order + 1) ** 2)
  for (let i = 0; i < count; i++) {
    const row = (fixedCount + i) * (order + 1) + fixedCount
    for (let j = 0; j < count; j++)
      covariance[row + j] = scale[fixedCount + i]! * inverse[i * count + j]! * scale[fixedCount + j]!
  }
  return covariance
}

function effectScales(model: BlockedModel, variances: readonly number[]): Float64Array {
  const scale = new Float64Array(model.order).fill(1)
  for (const { component, from, count } of model.globalComponents) {
    scale.fill(Math.sqrt(variances[component]!), from, from + count)
  }
  return scale
}
