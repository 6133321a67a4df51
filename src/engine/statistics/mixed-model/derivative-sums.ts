import type { Block, BlockedModel } from './blocks.js'
import { type BlockProjection, levelPrecision } from './projection.js'
import type { SolvedBlock } from './solve-block.js'

/** Sums over the blocks, by component: the terms eliminated there, and the residual. */
export class DerivativeSums {
  /** tr(P·A_g). */
  readonly trace: Float64Array
  /** y'P·A_g·Py. */
  readonly square: Float64Array
  /** u_g'V⁻¹u_h with u_g = A_g·Py, at [g·count + h], g ≤ h. */
  readonly form: Float64Array
  /** W'V⁻¹u_g over the small system. */
  readonly loads: readonly Float64Array[]
  readonly #residualScale: Float64Array
  /** Components of the local terms, then of the residual. */
  readonly #components: readonly number[]
  readonly #py: Float64Array
  /** u_g of the block at hand, one after the other. */
  readonly #u: Float64Array
  readonly #v: Float64Array

  constructor(model: BlockedModel) {
    const count = model.componentNames.length
    this.trace = new Float64Array(count)
    this.square = new Float64Array(count)
    this.form = new Float64Array(count ** 2)
    this.loads = model.componentNames.map(() => new Float64Array(model.stride))
    this.#residualScale = model.values.residualScale
    this.#components = [...model.localTerms, count - 1]
    const longest = model.blocks.reduce((most, { rows }) => Math.max(most, rows.length), 0)
    this.#py = new Float64Array(longest)
    this.#u = new Float64Array(longest * this.#components.length)
    this.#v = new Float64Array(longest)
  }

  addBlock(block: Block, solved: SolvedBlock, projection: BlockProjection): void {
    const n = block.rows.length
    for (let i = 0; i < n; i++) this.#py[i] = projection.rowResponse(block, i)
    for (let g = 0; g < block.local.length; g++) this.#addTerm(block, g, solved, projection)
    this.#addResidual(block, solved, projection)
    for (let h = 0; h < this.#components.length; h++) this.#addForms(block, h, solved)
  }

  #addTerm(block: Block, g: number, { inverse }: SolvedBlock, projection: BlockProjection): void {
    const component = this.#components[g]!
    const n = block.rows.length
    const { from, rows, weights } = block.local[g]!
    this.#u.fill(0, g * n, g * n + n)
    for (let c = 0; c + 1 < from.length; c++) {
      const sums = projection.levelSums(g, c, block)
      this.trace[component]! += levelPrecision(block, inverse, g, c) - projection.quadraticForm(sums, 0)
      let response = 0
      for (let s = from[c]!; s < from[c + 1]!; s++) response += weights[s]! * this.#py[rows[s]!]!
      this.square[component]! += response * response
      for (let s = from[c]!; s < from[c + 1]!; s++) this.#u[g * n + rows[s]!]! += weights[s]! * response
    }
  }

  #addResidual(block: Block, { inverse }: SolvedBlock, projection: BlockProjection): void {
    const g = this.#components.length - 1
    const component = this.#components[g]!
    const n = block.rows.length
    let trace = 0
    let square = 0
    for (let i = 0; i < n; i++) {
      const scale = this.#residualScale[block.at + i]!
      const py = this.#py[i]!
      trace += scale * (inverse[i * n + i]! - projection.fittedPrecision(i))
      square += scale * py * py
      this.#u[g * n + i] = scale * py
    }
    this.trace[component]! += trace
    this.square[component]! += square
  }

  /** V⁻¹u_h, its products with the u_g up to h, and W'V⁻¹u_h. */
  #addForms(block: Block, h: number, { inverse, weighted }: SolvedBlock): void {
    const n = block.rows.length
    const { columns } = block
    const width = columns.length
    const component = this.#components[h]!
    const load = this.loads[component]!
    for (let i = 0; i < n; i++) {
      let sum = 0
      for (let k = 0; k < n; k++) sum += inverse[i * n + k]! * this.#u[h * n + k]!
      this.#v[i] = sum
      const own = this.#u[h * n + i]!
      for (let k = 0; k + 1 < width; k++) load[columns[k]!]! += own * weighted[i * width + k]!
    }
    for (let g = 0; g <= h; g++) {
      let sum = 0
      for (let i = 0; i < n; i++) sum += this.#u[g * n + i]! * this.#v[i]!
      this.form[this.#components[g]! * this.trace.length + component]! += sum
    }
  }
}
