import { logDeterminant } from '../linear-algebra/cholesky.js'
import { dot } from '../linear-algebra/dense.js'
import { factorTiled, invertTiled } from '../linear-algebra/tiled.js'
import type { BlockedModel } from './blocks.js'

/** Henderson's equations of (β, global effects) after the blocks are eliminated. */
export interface SmallSystem {
  /**
   * Ĉ = S·C⁻¹·S with C = S·W'V⁻¹W·S + diag(prior precisions, 1) and S = diag(1, σ of each global effect), bordered by
   * zeros for y and up to the stride. It is the covariance matrix of the errors of (β, global effects), and stays
   * finite when a variance is zero.
   */
  readonly covariance: Float64Array
  /** Centred fixed effects and global effects. */
  readonly solution: Float64Array
  /** y'Py. */
  readonly quadratic: number
  /** −2 × restricted log-likelihood. */
  readonly criterion: number
}

/** Room for a small system and its inversion. */
export class SystemRoom {
  readonly covariance: Float64Array
  readonly upper: Float64Array

  constructor(stride: number) {
    this.covariance = new Float64Array(stride ** 2)
    this.upper = new Float64Array(stride ** 2)
  }
}

/**
 * Solves the small system.
 *
 *     −2·log L = (n − flat)·log 2π + log|V| + log|X'V⁻¹X + Λ| − Σ log λ + y'Py
 *
 * with Λ = diag(λ) the prior precisions, `flat` the number of fixed effects without a prior, the sum over those with
 * one (the density of y after β is integrated out), and log|V| + log|X'V⁻¹X + Λ| = Σ log|V_block| + log|C|.
 *
 * @param cross W'V⁻¹W of the blocks
 * @param blocksLogDeterminant Σ log|V_block|
 * @param variances by component
 * @param room overwritten; holds the covariance that is returned
 * @returns undefined when C is not positive definite
 */
export function solveSmallSystem(
  model: BlockedModel,
  cross: Float64Array,
  blocksLogDeterminant: number,
  variances: readonly number[],
  { covariance, upper }: SystemRoom,
): SmallSystem | undefined {
  const { order, stride } = model
  const scale = effectScales(model, variances)
  fillEquations(model, cross, scale, covariance)
  if (factorTiled(covariance, stride) >= 0) return undefined
  const systemLogDeterminant = logDeterminant(covariance, stride)
  invertTiled(covariance, stride, upper)
  for (let i = 0; i < stride; i++) {
    for (let j = 0; j < stride; j++) covariance[i * stride + j]! *= scale[i]! * scale[j]!
  }
  const right = cross.subarray(order * stride, order * stride + order)
  const solution = new Float64Array(order)
  for (let i = 0; i < order; i++) solution[i] = dot(covariance, i * stride, right, 0, order)
  const quadratic = cross[order * stride + order]! - dot(solution, 0, right, 0, order)
  let criterion = (model.rowCount - model.flatCount) * Math.log(2 * Math.PI) + quadratic
  criterion += blocksLogDeterminant + systemLogDeterminant
  for (const own of model.precision) if (own > 0) criterion -= Math.log(own)
  return { covariance, solution, quadratic, criterion }
}

/** Lower triangle of C; the identity beyond its order. */
function fillEquations(model: BlockedModel, cross: Float64Array, scale: Float64Array, into: Float64Array): void {
  const { order, stride, fixedCount, precision } = model
  for (let i = 0; i < stride; i++) {
    const row = i * stride
    for (let j = 0; j <= i; j++) into[row + j] = scale[i]! * cross[row + j]! * scale[j]!
    into[row + i]! += i < fixedCount ? precision[i]! : 1
    if (i >= order) into.fill(0, row, row + i)
    if (i >= order) into[row + i] = 1
  }
}

/** S, and 0 beyond the order. */
function effectScales({ order, stride, fixedCount, globalSpans }: BlockedModel, variances: readonly number[]) {
  const scale = new Float64Array(stride)
  scale.fill(1, 0, fixedCount)
  for (const { component, from, count } of globalSpans) scale.fill(Math.sqrt(variances[component]!), from, from + count)
  scale.fill(0, order)
  return scale
}
