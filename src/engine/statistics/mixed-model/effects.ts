import { solveSymmetric } from '../linear-algebra/cholesky.js'
import { dot } from '../linear-algebra/dense.js'
import type { Block, BlockedModel, GlobalSpan } from './blocks.js'
import { BlockProjection, levelPrecision } from './projection.js'
import type { SolvedBlock } from './solve-block.js'
import type { SolvedModel } from './solve-model.js'
import type { LevelEffect, MixedModelData } from './types.js'

/**
 * Predicted effects of all levels of all terms.
 *
 * An eliminated effect with design z in its block has mode σ²·z'Py and prediction variance σ² − σ⁴·z'Pz, which needs
 * only the entries of Ĉ between the columns of its block. With the fixed effects held, Ĉ is replaced by its Schur
 * complement Ĉ − Ĉ_·β·Ĉ_ββ⁻¹·Ĉ_β·, so that one inverse serves both.
 */
export function evaluateEffects(
  data: MixedModelData,
  model: BlockedModel,
  solved: SolvedModel,
): Record<string, LevelEffect[]> {
  const { variances } = solved
  // A level that no row has: nothing but its variance is known.
  const effects = data.random.map(({ levels }, component): LevelEffect[] => {
    const sd = Math.sqrt(variances[component]!)
    return levels.map((level) => ({ level, mode: 0, conditionalSd: sd, predictionSd: sd }))
  })
  const held = new HeldFixed(model, solved)
  for (const span of model.globalSpans) effects[span.component] = globalEffects(data, model, solved, span, held)
  const projection = new BlockProjection(model, solved)
  for (let b = 0; b < model.blocks.length; b++) {
    const block = projection.enter(b)
    for (let g = 0; g < block.local.length; g++) {
      const own = effects[model.localTerms[g]!]!
      block.local[g]!.levels.forEach((level, c) => {
        const { response, precision, ofFixed } = eliminatedLevel(projection, block, solved.blocks[b]!, g, c, held)
        const variance = variances[model.localTerms[g]!]!
        const prediction = variance - variance ** 2 * precision
        own[level] = levelEffect(own[level]!.level, variance * response, prediction, variance ** 2 * ofFixed)
      })
    }
  }
  return Object.fromEntries(data.random.map(({ name }, component) => [name, effects[component]!]))
}

/** z'Py, z'Pz and what the fixed effects' error has in it, of one level of a local term. */
function eliminatedLevel(
  projection: BlockProjection,
  block: Block,
  { inverse }: SolvedBlock,
  g: number,
  level: number,
  held: HeldFixed,
) {
  const sums = projection.levelSums(g, level, block)
  return {
    response: projection.response(block, sums, 0),
    precision: levelPrecision(block, inverse, g, level) - projection.quadraticForm(sums, 0),
    ofFixed: held.share(block.columns, sums),
  }
}

function levelEffect(level: string, mode: number, prediction: number, ofFixed: number): LevelEffect {
  const conditionalSd = Math.sqrt(Math.max(0, prediction - ofFixed))
  return { level, mode, conditionalSd, predictionSd: Math.sqrt(Math.max(0, prediction)) }
}

function globalEffects(
  data: MixedModelData,
  { stride }: BlockedModel,
  { system }: SolvedModel,
  { component, from }: GlobalSpan,
  held: HeldFixed,
): LevelEffect[] {
  return data.random[component]!.levels.map((level, l) => {
    const column = from + l
    const prediction = system.covariance[column * stride + column]!
    return levelEffect(level, system.solution[column]!, prediction, held.shareOfColumn(column))
  })
}

/** What the error of the fixed effects adds to the variance of others: x'·Ĉ_·β·Ĉ_ββ⁻¹·Ĉ_β·x. */
class HeldFixed {
  readonly #covariance: Float64Array
  readonly #stride: number
  readonly #count: number
  /** Ĉ_ββ⁻¹. */
  readonly #precision: Float64Array
  readonly #with: Float64Array

  constructor({ fixedCount, stride }: BlockedModel, { system }: SolvedModel) {
    this.#covariance = system.covariance
    this.#stride = stride
    this.#count = fixedCount
    this.#precision = new Float64Array(fixedCount ** 2)
    this.#with = new Float64Array(fixedCount)
    const own = new Float64Array(fixedCount ** 2)
    for (let i = 0; i < fixedCount; i++)
      own.set(system.covariance.subarray(i * stride, i * stride + fixedCount), i * fixedCount)
    for (let j = 0; j < fixedCount; j++) {
      const unit = new Float64Array(fixedCount)
      unit[j] = 1
      const column = solveSymmetric(own, unit)
      if (column) this.#precision.set(column, j * fixedCount)
    }
  }

  /** For x over the columns of a block. */
  share(columns: Int32Array, x: Float64Array): number {
    for (let j = 0; j < this.#count; j++) {
      let sum = 0
      for (let k = 0; k + 1 < columns.length; k++) sum += this.#covariance[j * this.#stride + columns[k]!]! * x[k]!
      this.#with[j] = sum
    }
    return this.#form()
  }

  /** For one effect of the small system. */
  shareOfColumn(column: number): number {
    for (let j = 0; j < this.#count; j++) this.#with[j] = this.#covariance[j * this.#stride + column]!
    return this.#form()
  }

  #form(): number {
    let sum = 0
    for (let i = 0; i < this.#count; i++) {
      sum += this.#with[i]! * dot(this.#precision, i * this.#count, this.#with, 0, this.#count)
    }
    return sum
  }
}
