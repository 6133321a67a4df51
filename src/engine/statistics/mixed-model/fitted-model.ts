import type { BlockedModel } from './blocks.js'
import type { CentredResponse } from './centre.js'
import { projectContrasts } from './contrasts.js'
import { evaluateEffects } from './effects.js'
import { type FunctionalMaker, functionalMaker } from './functional.js'
import { predictWithout } from './leave-out.js'
import { type ProjectedRows, projectRows } from './projection.js'
import { predictFunctional } from './solution.js'
import type { SolvedModel } from './solve-model.js'
import type { ExtraRow, LevelEffect, MixedModelData, MixedModelFit } from './types.js'

/** Data, model and variances with all that was solved from them. */
export interface FittedState {
  readonly data: MixedModelData
  readonly centred: CentredResponse
  readonly model: BlockedModel
  readonly solved: SolvedModel
}

/**
 * The fit of a model at its final variances.
 *
 * @param extend gives the fit with rows added, at these variances
 */
export function fittedModel(
  { data, centred, model, solved }: FittedState,
  iterations: number,
  extend: (rows: readonly ExtraRow[]) => MixedModelFit,
): MixedModelFit {
  const { variances } = solved
  const { effects, projected, predict } = onDemand({ data, centred, model, solved })
  return {
    data,
    variances: Object.fromEntries(model.componentNames.map((name, g) => [name, variances[g]!])),
    ...fixedEffects({ data, centred, model, solved }),
    get effects() {
      return effects()
    },
    remlCriterion: solved.system.criterion,
    iterations,
    predict,
    leaveOneOut: () => {
      const { py, diagonal } = projected()
      return py.map((response, row) => (response === 0 ? 0 : response / Math.sqrt(diagonal[row]!)))
    },
    projected,
    contrasts: (contrasts) => projectContrasts(model, solved, contrasts),
    withRows: extend,
  }
}

function fixedEffects({ data, centred, model, solved }: FittedState): Pick<MixedModelFit, 'fixed' | 'fixedCovariance'> {
  const { covariance, solution } = solved.system
  const { stride } = model
  return {
    fixed: data.fixedNames.map((name, j) => ({
      name,
      estimate: centred.offset[j]! + solution[j]!,
      se: Math.sqrt(covariance[j * stride + j]!),
    })),
    fixedCovariance: data.fixedNames.map((_, i) => data.fixedNames.map((__, j) => covariance[i * stride + j]!)),
  }
}

/** What is computed at the first use: many fits are made for their projected rows alone. */
function onDemand({ data, centred, model, solved }: FittedState) {
  let effects: Record<string, LevelEffect[]> | undefined
  let rows: ProjectedRows | undefined
  let functionalOf: FunctionalMaker | undefined
  const predict: MixedModelFit['predict'] = (target, withoutRows = []) => {
    functionalOf ??= functionalMaker(data, model, solved.variances)
    const functional = functionalOf(target)
    const { mean, variance } =
      withoutRows.length > 0
        ? predictWithout(model, solved, functional, withoutRows)
        : predictFunctional(model, solved, functional)
    const offset = target.fixed.reduce((sum, x, j) => sum + x * centred.offset[j]!, 0)
    return { mean: mean + offset, variance }
  }
  return {
    effects: () => {
      effects ??= evaluateEffects(data, model, solved)
      return effects
    },
    projected: () => {
      rows ??= projectRows(model, solved)
      return rows
    },
    predict,
  }
}
