import { dot, multiplyVector } from '../linear-algebra/dense.js'
import type { BlockedModel, GlobalSpan } from './blocks.js'
import { DerivativeSums } from './derivative-sums.js'
import { BlockProjection } from './projection.js'
import type { SolvedModel } from './solve-model.js'

/** Share of a global effect's precision that the data add, below which 1 − Ĉ_kk/σ² has lost its digits. */
const SMALLEST_SHARE_BY_DIFFERENCE = 1e-4

/** Derivatives of −2·log L by the variances, all components in order. */
export interface CriterionDerivatives {
  readonly gradient: Float64Array
  /** tr(P·A_g). */
  readonly trace: Float64Array
  /** y'P·A_g·P·A_h·Py: the average information, close to the Hessian wherever levels are many; never negative. */
  readonly average: Float64Array
  /** tr(P·A_g)²/levels, which is at most tr(P·A_g·P·A_g), the expected information (Cauchy and Schwarz). */
  readonly leastExpected: Float64Array
}

/**
 * Exact gradient and average information, with A_g = Z_g·Z_g' (for the residual the diagonal of the scales):
 *
 *     ∂(−2·log L)/∂σ_g² = tr(P·A_g) − y'P·A_g·Py
 *
 * The average of observed and expected Hessian, y'P·A_g·P·A_h·Py, needs P times a few vectors A_h·Py, where each of the
 * two alone needs products of matrices of the small system's order.
 *
 * Source: Gilmour, Thompson, Cullis, Biometrics 51 (1995) 1440–1450.
 */
export function criterionDerivatives(model: BlockedModel, solved: SolvedModel): CriterionDerivatives {
  const sums = new DerivativeSums(model)
  const projection = new BlockProjection(model, solved)
  for (let b = 0; b < model.blocks.length; b++) sums.addBlock(projection.enter(b), solved.blocks[b]!, projection)
  const count = model.componentNames.length
  const responses = globalResponses(model, solved)
  for (const span of model.globalSpans) addGlobal(model, solved, span, responses, sums)
  const gradient = sums.trace.map((trace, g) => trace - sums.square[g]!)
  const average = averageInformation(model, solved, sums, responses)
  const levels = levelCounts(model)
  const leastExpected = Float64Array.from({ length: count }, (_, g) => sums.trace[g]! ** 2 / Math.max(1, levels[g]!))
  return { gradient, trace: sums.trace, average, leastExpected }
}

function levelCounts(model: BlockedModel): Float64Array {
  const counts = new Float64Array(model.componentNames.length)
  for (const { local } of model.blocks) {
    for (let g = 0; g < local.length; g++) counts[model.localTerms[g]!]! += local[g]!.levels.length
  }
  for (const { component, count } of model.globalSpans) counts[component] = count
  counts[counts.length - 1] = model.rowCount
  return counts
}

/** Z_g'Py of all global effects, over the small system; its part for the fixed effects is unused. */
function globalResponses({ order, stride }: BlockedModel, { cross, system }: SolvedModel): Float64Array {
  const responses = new Float64Array(stride)
  for (let i = 0; i < order; i++) {
    responses[i] = cross[i * stride + order]! - dot(cross, i * stride, system.solution, 0, order)
  }
  return responses
}

/** A term of the small system: its A_g·Py is W times the entries of `responses` in its span. */
function addGlobal(
  model: BlockedModel,
  solved: SolvedModel,
  span: GlobalSpan,
  responses: Float64Array,
  sums: DerivativeSums,
): void {
  const { component, from, count } = span
  const { order, stride } = model
  sums.trace[component] = globalTrace(model, solved, span)
  sums.square[component] = dot(responses, from, responses, from, count)
  const load = sums.loads[component]!
  for (let i = 0; i < order; i++) load[i] = dot(solved.cross, i * stride + from, responses, from, count)
}

/**
 * tr(Z_g'PZ_g). With M = W'V⁻¹W it is the trace of M − M·Ĉ·M over the span, which equals (I − Ĉ/σ_g²)/σ_g² there; where
 * σ_g² is so small that this is a difference of equals, the products are written out.
 */
function globalTrace(model: BlockedModel, { cross, system, variances }: SolvedModel, span: GlobalSpan): number {
  const { component, from, count } = span
  const { order, stride } = model
  const variance = variances[component]!
  let share = 0
  for (let k = from; k < from + count; k++) share += 1 - system.covariance[k * stride + k]! / variance
  if (variance > 0 && share > SMALLEST_SHARE_BY_DIFFERENCE * count) return share / variance
  let trace = 0
  for (let k = from; k < from + count; k++) {
    trace += cross[k * stride + k]!
    for (let i = 0; i < order; i++) {
      const own = cross[k * stride + i]!
      if (own !== 0 && system.covariance[i * stride + i]! > 0) {
        trace -= own * dot(system.covariance, i * stride, cross, k * stride, order)
      }
    }
  }
  return trace
}

function averageInformation(
  model: BlockedModel,
  { system }: SolvedModel,
  { form, loads }: DerivativeSums,
  responses: Float64Array,
): Float64Array {
  const count = model.componentNames.length
  const { order, stride } = model
  const average = Float64Array.from(form)
  const spans = new Map(model.globalSpans.map((span) => [span.component, span]))
  loads.forEach((load, h) => {
    const shrunk = multiplyVector(system.covariance, load, stride)
    for (let g = 0; g <= h; g++) {
      // u_g'V⁻¹u_h where one of the two belongs to the small system: its responses times the other's load.
      const [span, other] = spans.has(g) ? [spans.get(g)!, load] : [spans.get(h), loads[g]!]
      const between = span ? dot(responses, span.from, other, span.from, span.count) : average[g * count + h]!
      const value = between - dot(loads[g]!, 0, shrunk, 0, order)
      average[g * count + h] = value
      average[h * count + g] = value
    }
  })
  return average
}
