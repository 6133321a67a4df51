import { dot } from '../linear-algebra/dense.js'
import type { Block, BlockedModel } from './blocks.js'
import type { SolvedModel } from './solve-model.js'

/**
 * A linear function of the effects seen from the data: its prior mean and covariance with what was observed.
 * `local` is by block: the covariance of its eliminated part with the rows of that block.
 */
export interface Functional {
  /** Coefficients on (β, global effects), bordered by zeros. */
  readonly small: Float64Array
  readonly local: ReadonlyMap<number, Float64Array>
  /** Variance, before any data, of the part that is not in the small system. */
  readonly priorVariance: number
}

/**
 * Mean and variance of a functional given all rows.
 *
 *     mean = w'û + c'V⁻¹(y − Wû),   variance = v₀ − c'V⁻¹c + r'Ĉr,   r = w − W'V⁻¹c
 */
export function predictFunctional(
  model: BlockedModel,
  solved: SolvedModel,
  functional: Functional,
): { mean: number; variance: number; remainder: Float64Array } {
  const remainder = Float64Array.from(functional.small)
  let mean = 0
  let variance = functional.priorVariance
  for (const [index, local] of functional.local) {
    const block = model.blocks[index]!
    const { inverse, weighted } = solved.blocks[index]!
    const n = block.rows.length
    const width = block.columns.length
    for (let i = 0; i < n; i++) {
      const own = local[i]!
      if (own === 0) continue
      variance -= own * dot(inverse, i * n, local, 0, n)
      for (let k = 0; k + 1 < width; k++) remainder[block.columns[k]!]! -= own * weighted[i * width + k]!
      mean += own * weighted[i * width + width - 1]!
    }
  }
  mean += dot(remainder, 0, solved.system.solution, 0, model.order)
  variance += quadraticForm(solved.system.covariance, remainder, model.order, model.stride)
  return { mean, variance: Math.max(0, variance), remainder }
}

/** x'·A·x over the entries of x that are not zero: a functional meets few of the small system's columns. */
function quadraticForm(matrix: Float64Array, x: Float64Array, n: number, stride: number): number {
  const met: number[] = []
  for (let i = 0; i < n; i++) if (x[i] !== 0) met.push(i)
  let sum = 0
  for (const i of met) {
    let row = 0
    for (const j of met) row += matrix[i * stride + j]! * x[j]!
    sum += x[i]! * row
  }
  return sum
}

/** (V⁻¹W)_i·Ĉ of one row of a block, over the small system. */
export function shrunkRow(
  model: BlockedModel,
  solved: SolvedModel,
  block: Block,
  weighted: Float64Array,
  i: number,
): Float64Array {
  const { stride } = model
  const width = block.columns.length
  const shrunk = new Float64Array(stride)
  for (let k = 0; k + 1 < width; k++) {
    const row = block.columns[k]! * stride
    const own = weighted[i * width + k]!
    for (let j = 0; j < stride; j++) shrunk[j]! += own * solved.system.covariance[row + j]!
  }
  return shrunk
}

/** Σ over the block's columns of (V⁻¹W)_i·x, for x over the small system. */
export function rowTimes(block: Block, weighted: Float64Array, i: number, x: Float64Array): number {
  const width = block.columns.length
  let sum = 0
  for (let k = 0; k + 1 < width; k++) sum += weighted[i * width + k]! * x[block.columns[k]!]!
  return sum
}

/** (Py)_i of one row. */
export function projectedResponse(solved: SolvedModel, block: Block, weighted: Float64Array, i: number): number {
  const width = block.columns.length
  return weighted[i * width + width - 1]! - rowTimes(block, weighted, i, solved.system.solution)
}
