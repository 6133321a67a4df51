import { factorInPlace, invertInPlace, logDeterminant } from '../linear-algebra/cholesky.js'
import type { Block, BlockedModel, RowValues } from './blocks.js'

/** One block at given variances. */
export interface SolvedBlock {
  /** V⁻¹, V the covariance of the rows from the local terms, the residual and the known errors. */
  readonly inverse: Float64Array
  /** V⁻¹·[X, Z_global, y]. */
  readonly weighted: Float64Array
  logDeterminant: number
}

/** Room for all blocks of a model, as views of two arrays. */
export function roomForBlocks({ blocks }: BlockedModel): SolvedBlock[] {
  const inverses = new Float64Array(blocks.reduce((sum, { rows }) => sum + rows.length ** 2, 0))
  const weighteds = new Float64Array(blocks.reduce((sum, { rows, columns }) => sum + rows.length * columns.length, 0))
  let inverseAt = 0
  let weightedAt = 0
  return blocks.map(({ rows, columns }) => {
    const inverse = inverses.subarray(inverseAt, inverseAt + rows.length ** 2)
    const weighted = weighteds.subarray(weightedAt, weightedAt + rows.length * columns.length)
    inverseAt += inverse.length
    weightedAt += weighted.length
    return { inverse, weighted, logDeterminant: 0 }
  })
}

/**
 * Solves one block.
 *
 * @param variances by component, the residual last
 * @returns false when V is not positive definite
 */
export function solveBlock(
  { localTerms, values }: BlockedModel,
  block: Block,
  variances: readonly number[],
  into: SolvedBlock,
): boolean {
  const n = block.rows.length
  const { inverse } = into
  inverse.fill(0)
  fillErrors(block, values, variances.at(-1)!, inverse)
  for (let g = 0; g < localTerms.length; g++) fillEffects(block, g, variances[localTerms[g]!]!, inverse)
  if (factorInPlace(inverse, n) >= 0) return false
  into.logDeterminant = logDeterminant(inverse, n)
  invertInPlace(inverse, n)
  weigh(block, values.y, inverse, into.weighted)
  return true
}

/** Lower triangle of the covariance of residual and known errors. */
function fillErrors(block: Block, values: RowValues, residual: number, v: Float64Array): void {
  const { at, links, linkAt } = block
  const n = block.rows.length
  for (let i = 0; i < n; i++) {
    v[i * n + i] = values.errorVariance[at + i]! + residual * values.residualScale[at + i]!
  }
  for (let k = 0; 2 * k < links.length; k++) {
    const row = Math.max(links[2 * k]!, links[2 * k + 1]!)
    const other = Math.min(links[2 * k]!, links[2 * k + 1]!)
    v[row * n + other]! += values.covariance[linkAt + k]!
  }
}

/** Adds σ_g²·Z_g·Z_g' to the lower triangle. */
function fillEffects(block: Block, g: number, variance: number, v: Float64Array): void {
  const n = block.rows.length
  const { from, rows, weights } = block.local[g]!
  for (let c = 0; c + 1 < from.length; c++) {
    const end = from[c + 1]!
    for (let s = from[c]!; s < end; s++) {
      const row = rows[s]!
      const scaled = variance * weights[s]!
      for (let t = from[c]!; t < end; t++) if (rows[t]! <= row) v[row * n + rows[t]!]! += scaled * weights[t]!
    }
  }
}

/** V⁻¹·[X, Z_global, y]: the design is sparse, the product is not. */
function weigh(block: Block, y: Float64Array, inverse: Float64Array, weighted: Float64Array): void {
  const { at, designFrom, designPlace, designWeight } = block
  const n = block.rows.length
  const width = block.columns.length
  weighted.fill(0)
  for (let i = 0; i < n; i++) {
    const to = i * width
    let ofY = 0
    for (let k = 0; k < n; k++) {
      const entry = inverse[i * n + k]!
      for (let d = designFrom[k]!; d < designFrom[k + 1]!; d++)
        weighted[to + designPlace[d]!]! += entry * designWeight[d]!
      ofY += entry * y[at + k]!
    }
    weighted[to + width - 1] = ofY
  }
}

/**
 * Adds W'V⁻¹W of a block, W = [X, Z_global, y], to the lower triangle of the sum over the blocks; with a sign of −1
 * takes it away.
 *
 * @param cross order `stride`
 * @param room at least the square of the block's columns
 */
export function addCross(
  { stride, values }: BlockedModel,
  cross: Float64Array,
  block: Block,
  { weighted }: SolvedBlock,
  sign: 1 | -1,
  room: Float64Array,
): void {
  const { at, columns, designFrom, designPlace, designWeight } = block
  const width = columns.length
  room.fill(0, 0, width * width)
  for (let k = 0; k < block.rows.length; k++) {
    for (let d = designFrom[k]!; d < designFrom[k + 1]!; d++) {
      const i = designPlace[d]!
      const weight = sign * designWeight[d]!
      for (let j = 0; j <= i; j++) room[i * width + j]! += weight * weighted[k * width + j]!
    }
    const ofY = sign * values.y[at + k]!
    for (let j = 0; j < width; j++) room[(width - 1) * width + j]! += ofY * weighted[k * width + j]!
  }
  for (let i = 0; i < width; i++) {
    const row = columns[i]! * stride
    for (let j = 0; j <= i; j++) cross[row + columns[j]!]! += room[i * width + j]!
  }
}
