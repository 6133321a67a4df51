import type { BlockedModel } from './blocks.js'
import type { SolvedModel } from './evaluate.js'
import type { FunctionalMaker } from './functional.js'
import { conditionalCovariance } from './small-system.js'
import { predictFunctional } from './solution.js'
import type { LevelEffect, MixedModelData } from './types.js'

/** Predicted effects of all levels of all terms. */
export function evaluateEffects(
  data: MixedModelData,
  model: BlockedModel,
  solved: SolvedModel,
  variances: readonly number[],
  functionalOf: FunctionalMaker,
): Record<string, LevelEffect[]> {
  const fixed = data.fixedNames.map(() => 0)
  const held = conditionalCovariance(model, solved.sums, variances)
  return Object.fromEntries(
    data.random.map(({ name, levels }) => [
      name,
      levels.map((level) => {
        const functional = functionalOf({ fixed, random: { [name]: [{ level, weight: 1 }] } })
        const { mean, variance } = predictFunctional(model, solved, functional)
        const conditional = predictFunctional(model, solved, functional, held).variance
        return { level, mode: mean, conditionalSd: Math.sqrt(conditional), predictionSd: Math.sqrt(variance) }
      }),
    ]),
  )
}
