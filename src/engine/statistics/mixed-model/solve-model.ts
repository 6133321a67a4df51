import type { BlockedModel } from './blocks.js'
import { type SmallSystem, SystemRoom, solveSmallSystem } from './small-system.js'
import { addCross, roomForBlocks, type SolvedBlock, solveBlock } from './solve-block.js'

/** A model solved at given variances. */
export interface SolvedModel {
  /** By component. */
  readonly variances: readonly number[]
  readonly blocks: readonly SolvedBlock[]
  /** Σ log|V| over the blocks. */
  readonly logDeterminant: number
  /** W'V⁻¹W, symmetric, order `stride`; W = [X, Z_global, y]. */
  readonly cross: Float64Array
  readonly system: SmallSystem
}

/** Room in which one model is solved again and again: each solution overwrites the one before. */
export class ModelSolver {
  readonly #model: BlockedModel
  readonly #blocks: SolvedBlock[]
  readonly #cross: Float64Array
  readonly #system: SystemRoom
  readonly #room: Float64Array

  constructor(model: BlockedModel) {
    this.#model = model
    this.#blocks = roomForBlocks(model)
    this.#cross = new Float64Array(model.stride ** 2)
    this.#system = new SystemRoom(model.stride)
    this.#room = new Float64Array(model.widest ** 2)
  }

  /**
   * @param variances by component
   * @returns undefined where the covariance of y is not positive definite
   */
  solve(variances: readonly number[]): SolvedModel | undefined {
    const model = this.#model
    const cross = this.#cross.fill(0)
    let logDeterminant = 0
    for (let b = 0; b < model.blocks.length; b++) {
      const block = model.blocks[b]!
      const solved = this.#blocks[b]!
      if (!solveBlock(model, block, variances, solved)) return undefined
      logDeterminant += solved.logDeterminant
      addCross(model, cross, block, solved, 1, this.#room)
    }
    mirrorLower(cross, model.stride)
    const system = solveSmallSystem(model, cross, logDeterminant, variances, this.#system)
    return system && { variances, blocks: this.#blocks, logDeterminant, cross, system }
  }
}

/** Copies the lower triangle to the upper one. */
export function mirrorLower(matrix: Float64Array, n: number): void {
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) matrix[j * n + i] = matrix[i * n + j]!
}
