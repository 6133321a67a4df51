import { OutOfRange } from '../../errors.js'
import { addScaled } from '../linear-algebra/dense.js'
import type { BlockedModel } from './blocks.js'
import type { Functional } from './solution.js'
import type { LinearTarget, MixedModelData } from './types.js'

/** Turns targets into functionals of a blocked model at given variances. */
export type FunctionalMaker = (target: LinearTarget) => Functional

/** Level → block and column of its Z, −1 where no row has it. */
interface LevelPlaces {
  readonly block: Int32Array
  readonly column: Int32Array
}

/**
 * Prepares the look-up of levels.
 *
 * @returns a function that throws OutOfRange for a target with another number of fixed effects, an unknown term, or
 * a number that is not finite
 */
export function functionalMaker(
  data: MixedModelData,
  model: BlockedModel,
  variances: readonly number[],
): FunctionalMaker {
  const indices = new Map(data.random.map((term, t) => [term.name, t]))
  const levelIndices = data.random.map((term) => new Map(term.levels.map((level, l) => [level, l])))
  const places = new Map(model.localTerms.map((component, g) => [component, placeLevels(data, model, component, g)]))
  const spans = new Map(model.globalSpans.map((span) => [span.component, span]))

  return (target) => {
    checkTarget(target, model.fixedCount, indices)
    const small = new Float64Array(model.stride)
    small.set(target.fixed)
    const local = new Map<number, Float64Array>()
    let priorVariance = 0
    for (const [name, members] of Object.entries(target.random)) {
      const component = indices.get(name)!
      for (const [level, weight] of summedByLevel(members)) {
        const index = levelIndices[component]!.get(level)
        const span = spans.get(component)
        if (span && index !== undefined) {
          small[span.from + index]! += weight
          continue
        }
        priorVariance += weight * weight * variances[component]!
        const placed = places.get(component)
        if (placed && index !== undefined && placed.block[index]! >= 0) {
          addLocal(model, local, component, placed, index, weight * variances[component]!)
        }
      }
    }
    return { small, local, priorVariance }
  }
}

/** @throws OutOfRange for another number of fixed effects, an unknown term, or a number that is not finite */
export function checkTarget(target: LinearTarget, fixedCount: number, terms: ReadonlyMap<string, unknown>): void {
  if (target.fixed.length !== fixedCount) {
    throw new OutOfRange('number of fixed effects of a prediction', target.fixed.length, `${fixedCount}`)
  }
  const wrong = target.fixed.find((value) => !Number.isFinite(value))
  if (wrong !== undefined) throw new OutOfRange('fixed effect of a prediction', wrong, 'finite')
  for (const [name, members] of Object.entries(target.random)) {
    if (!terms.has(name))
      throw new OutOfRange('random term of a prediction', name, `one of ${[...terms.keys()].join(', ')}`)
    for (const { level, weight } of members) {
      if (!Number.isFinite(weight)) throw new OutOfRange(`weight of ${name} ${level}`, weight, 'finite')
    }
  }
}

function summedByLevel(members: LinearTarget['random'][string]): ReadonlyMap<string, number> {
  const weights = new Map<string, number>()
  for (const { level, weight } of members) weights.set(level, (weights.get(level) ?? 0) + weight)
  return weights
}

function placeLevels(data: MixedModelData, model: BlockedModel, component: number, g: number): LevelPlaces {
  const count = data.random[component]!.levels.length
  const block = new Int32Array(count).fill(-1)
  const column = new Int32Array(count)
  model.blocks.forEach((own, index) => {
    own.local[g]!.levels.forEach((level, c) => {
      block[level] = index
      column[level] = c
    })
  })
  return { block, column }
}

function addLocal(
  model: BlockedModel,
  local: Map<number, Float64Array>,
  component: number,
  places: LevelPlaces,
  level: number,
  factor: number,
): void {
  const index = places.block[level]!
  const block = model.blocks[index]!
  const covariance = local.get(index) ?? new Float64Array(block.rows.length)
  const { from, rows, weights } = block.local[model.localTerms.indexOf(component)]!
  const c = places.column[level]!
  for (let s = from[c]!; s < from[c + 1]!; s++) addScaled(covariance, rows[s]!, weights, s, 1, factor)
  local.set(index, covariance)
}
