import type { BlockedModel } from './blocks.js'
import { type CriterionDerivatives, criterionDerivatives } from './derivatives.js'
import type { ModelSolver } from './solve-model.js'

/** The criterion of a model at given variances, with what a search needs of its derivatives. */
export interface Evaluation extends CriterionDerivatives {
  readonly criterion: number
}

/** @returns undefined where the covariance of y is not positive definite */
export function evaluate(
  model: BlockedModel,
  solver: ModelSolver,
  variances: readonly number[],
): Evaluation | undefined {
  const solved = solver.solve(variances)
  return solved && { criterion: solved.system.criterion, ...criterionDerivatives(model, solved) }
}
