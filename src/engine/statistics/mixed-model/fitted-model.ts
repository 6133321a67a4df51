import { OutOfRange } from '../../errors.js'
import type { BlockedModel } from './blocks.js'
import type { CentredResponse } from './centre.js'
import { evaluateEffects } from './effects.js'
import { solveModel } from './evaluate.js'
import { functionalMaker } from './functional.js'
import { leaveOneOut, predictWithout } from './leave-out.js'
import { predictFunctional } from './solution.js'
import type { ExtraRow, LevelEffect, MixedModelData, MixedModelFit } from './types.js'

/**
 * The fit of a model at its final variances.
 *
 * @param extend gives the fit with rows added, at these variances
 */
export function fittedModel(
  data: MixedModelData,
  centred: CentredResponse,
  model: BlockedModel,
  variances: readonly number[],
  iterations: number,
  extend: (variances: Readonly<Record<string, number>>, rows: readonly ExtraRow[]) => MixedModelFit,
): MixedModelFit {
  const solved = solveModel(model, variances)
  if (!solved) throw new OutOfRange('covariance of y at the variances', 'singular', 'positive definite')
  const { covariance, solution, criterion } = solved.system
  const size = model.order + 1
  const functionalOf = functionalMaker(data, model, variances)
  let effects: Record<string, LevelEffect[]> | undefined
  const named = Object.fromEntries(model.componentNames.map((name, g) => [name, variances[g]!]))
  return {
    variances: named,
    fixed: data.fixedNames.map((name, j) => ({
      name,
      estimate: centred.offset[j]! + solution[j]!,
      se: Math.sqrt(covariance[j * size + j]!),
    })),
    fixedCovariance: data.fixedNames.map((_, i) => data.fixedNames.map((__, j) => covariance[i * size + j]!)),
    get effects() {
      effects ??= evaluateEffects(data, model, solved, variances, functionalOf)
      return effects
    },
    remlCriterion: criterion,
    iterations,
    predict: (target, withoutRows = []) => {
      const functional = functionalOf(target)
      const { mean, variance } =
        withoutRows.length > 0
          ? predictWithout(model, solved, functional, withoutRows)
          : predictFunctional(model, solved, functional)
      const offset = target.fixed.reduce((sum, x, j) => sum + x * centred.offset[j]!, 0)
      return { mean: mean + offset, variance }
    },
    leaveOneOut: () => leaveOneOut(model, solved),
    withRows: (rows) => extend(named, rows),
  }
}
