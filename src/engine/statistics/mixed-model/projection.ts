import type { Block, BlockedModel } from './blocks.js'
import type { SolvedModel } from './solve-model.js'

/**
 * What P = V⁻¹ − V⁻¹W·Ĉ·W'V⁻¹ (V of the blocks) makes of the rows of one block. P itself is never formed: a block needs
 * only the entries of Ĉ between the few columns that it meets (a selected inverse), here gathered side by side.
 */
export class BlockProjection {
  readonly #model: BlockedModel
  readonly #solved: SolvedModel
  readonly #covariance: Float64Array
  readonly #level: Float64Array
  #width = 0
  #weighted: Float64Array

  constructor(model: BlockedModel, solved: SolvedModel) {
    this.#model = model
    this.#solved = solved
    this.#covariance = new Float64Array(model.widest ** 2)
    this.#level = new Float64Array(model.widest)
    this.#weighted = this.#covariance
  }

  /** Turns to a block. */
  enter(index: number): Block {
    const block = this.#model.blocks[index]!
    const { columns } = block
    const { stride } = this.#model
    const { covariance } = this.#solved.system
    this.#weighted = this.#solved.blocks[index]!.weighted
    this.#width = columns.length
    const width = this.#width
    for (let i = 0; i + 1 < width; i++) {
      const row = columns[i]! * stride
      for (let j = 0; j <= i; j++) this.#covariance[i * width + j] = covariance[row + columns[j]!]!
    }
    return block
  }

  /** x'Ĉx for x over the columns of the block, y's left out. */
  quadraticForm(x: Float64Array, from: number): number {
    const width = this.#width
    const covariance = this.#covariance
    let sum = 0
    for (let i = 0; i + 1 < width; i++) {
      const own = x[from + i]!
      let between = 0
      for (let j = 0; j < i; j++) between += covariance[i * width + j]! * x[from + j]!
      sum += own * (covariance[i * width + i]! * own + 2 * between)
    }
    return sum
  }

  /** Share of P_ii that the fitted effects take: (V⁻¹W)_i·Ĉ·(W'V⁻¹)_i. */
  fittedPrecision(i: number): number {
    return this.quadraticForm(this.#weighted, i * this.#width)
  }

  /** (P·y)_i. */
  rowResponse(block: Block, i: number): number {
    return this.response(block, this.#weighted, i * this.#width)
  }

  /** x'Py from x'V⁻¹[W, y], which stands in `x` from `from` on. */
  response({ columns }: Block, x: Float64Array, from: number): number {
    const { solution } = this.#solved.system
    const last = this.#width - 1
    let value = x[from + last]!
    for (let k = 0; k < last; k++) value -= x[from + k]! * solution[columns[k]!]!
    return value
  }

  /** z'V⁻¹[W, y] for the design z of one level; overwritten by the next. */
  levelSums(g: number, level: number, block: Block): Float64Array {
    const { from, rows, weights } = block.local[g]!
    const width = this.#width
    const sums = this.#level.fill(0, 0, width)
    for (let s = from[level]!; s < from[level + 1]!; s++) {
      const row = rows[s]! * width
      const weight = weights[s]!
      for (let k = 0; k < width; k++) sums[k]! += weight * this.#weighted[row + k]!
    }
    return sums
  }
}

/** z'V⁻¹z of one level of a local term. */
export function levelPrecision(block: Block, inverse: Float64Array, g: number, level: number): number {
  const { from, rows, weights } = block.local[g]!
  const n = block.rows.length
  let sum = 0
  for (let s = from[level]!; s < from[level + 1]!; s++) {
    let own = 0
    for (let t = from[level]!; t < from[level + 1]!; t++) own += weights[t]! * inverse[rows[s]! * n + rows[t]!]!
    sum += weights[s]! * own
  }
  return sum
}

/** P·y and the diagonal of P, by row of the data. */
export interface ProjectedRows {
  readonly py: Float64Array
  readonly diagonal: Float64Array
}

/** P_ii that is less than this share of (V⁻¹)_ii is rounding error: the row alone determines a fixed effect. */
const SMALLEST_FREE_SHARE = 1e-10

/** P·y and the diagonal of P; both 0 for a row that alone determines a fixed effect. */
export function projectRows(model: BlockedModel, solved: SolvedModel): ProjectedRows {
  const py = new Float64Array(model.rowCount)
  const diagonal = new Float64Array(model.rowCount)
  const projection = new BlockProjection(model, solved)
  for (let b = 0; b < model.blocks.length; b++) {
    const block = projection.enter(b)
    const { inverse } = solved.blocks[b]!
    const n = block.rows.length
    for (let i = 0; i < n; i++) {
      const whole = inverse[i * n + i]!
      const precision = whole - projection.fittedPrecision(i)
      if (!(precision > SMALLEST_FREE_SHARE * whole)) continue
      py[block.rows[i]!] = projection.rowResponse(block, i)
      diagonal[block.rows[i]!] = precision
    }
  }
  return { py, diagonal }
}
