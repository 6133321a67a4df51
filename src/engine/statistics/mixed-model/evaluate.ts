import { addCross, addDerivatives, type BlockSums, emptySums, type SolvedBlock, solveBlock } from './block-sums.js'
import type { BlockedModel } from './blocks.js'
import { type CriterionDerivatives, criterionDerivatives } from './derivatives.js'
import { type SmallSystem, solveSmallSystem } from './small-system.js'

/** A model at given variances, with derivatives of its criterion. */
export interface Evaluation extends CriterionDerivatives {
  readonly criterion: number
}

/** A model solved at given variances. */
export interface SolvedModel {
  readonly blocks: readonly SolvedBlock[]
  readonly sums: BlockSums
  readonly system: SmallSystem
}

/**
 * Criterion and derivatives in one pass over the blocks; memory of one block at a time.
 *
 * @param variances by component
 * @returns undefined where the covariance of y is not positive definite
 */
export function evaluate(model: BlockedModel, variances: readonly number[]): Evaluation | undefined {
  const sums = emptySums(model)
  const local = model.localComponents.map((component) => variances[component]!)
  for (const block of model.blocks) {
    const solved = solveBlock(block, local)
    if (!solved) return undefined
    addCross(sums, model.order, block, solved)
    addDerivatives(sums, model.order, block, solved)
  }
  const system = solveSmallSystem(model, sums, variances)
  return system && { criterion: system.criterion, ...criterionDerivatives(model, sums, system) }
}

/** Solves a model and keeps what predictions need of each block. */
export function solveModel(model: BlockedModel, variances: readonly number[]): SolvedModel | undefined {
  const sums = emptySums(model)
  const local = model.localComponents.map((component) => variances[component]!)
  const blocks: SolvedBlock[] = []
  for (const block of model.blocks) {
    const solved = solveBlock(block, local)
    if (!solved) return undefined
    addCross(sums, model.order, block, solved)
    blocks.push(solved)
  }
  const system = solveSmallSystem(model, sums, variances)
  return system && { blocks, sums, system }
}
