import type { BlockedModel } from './blocks.js'
import { type CriterionDerivatives, criterionDerivatives } from './derivatives.js'
import type { SearchComponent } from './objective.js'
import type { ModelSolver } from './solve-model.js'

/** The criterion of a model at given variances, with what a search needs of its derivatives. */
export interface Evaluation extends CriterionDerivatives {
  readonly criterion: number
  /** y'Py. */
  readonly quadratic: number
}

/** @returns undefined where the covariance of y is not positive definite */
export function evaluate(
  model: BlockedModel,
  solver: ModelSolver,
  variances: readonly number[],
): Evaluation | undefined {
  const solved = solver.solve(variances)
  if (!solved) return undefined
  const { criterion, quadratic } = solved.system
  return { criterion, quadratic, ...criterionDerivatives(model, solved) }
}

/** Whether all that makes up the covariance of y is multiplied by what the variances are multiplied by. */
export function isScaleFree({ values, precision }: BlockedModel, components: readonly SearchComponent[]): boolean {
  return (
    components.every(({ scale, prior }) => scale !== 'held' && prior.kind === 'flat') &&
    precision.every((own) => own === 0) &&
    values.errorVariance.every((error) => error === 0) &&
    values.covariance.length === 0
  )
}

/**
 * The evaluation at the best multiple of the variances, for a model whose scale is free: with V multiplied by c all
 * follows without another pass over the data,
 *
 *     −2·log L = … + (n − flat)·log c + y'Py/c,   least at c = y'Py/(n − flat)
 *
 * It takes the scale out of the search, in which Newton's steps would have to find it together with the ratios.
 *
 * Source: Bates, Mächler, Bolker, Walker, Journal of Statistical Software 67 (2015), 3.4 (the profiled criterion).
 *
 * @returns c as well; 1 and the evaluation itself where no degrees of freedom, or nothing of y, are left
 */
export function bestScaled(
  { rowCount, flatCount }: BlockedModel,
  at: Evaluation,
): { readonly factor: number; readonly scaled: Evaluation } {
  const free = rowCount - flatCount
  const factor = at.quadratic / free
  if (!(free > 0 && factor > 0)) return { factor: 1, scaled: at }
  return {
    factor,
    scaled: {
      criterion: at.criterion + free * Math.log(factor) + at.quadratic / factor - at.quadratic,
      quadratic: at.quadratic / factor,
      gradient: at.trace.map((trace, g) => trace / factor - (trace - at.gradient[g]!) / factor ** 2),
      trace: at.trace.map((trace) => trace / factor),
      average: at.average.map((entry) => entry / factor ** 3),
      leastExpected: at.leastExpected.map((own) => own / factor ** 2),
    },
  }
}
