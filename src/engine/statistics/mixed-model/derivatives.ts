import { dot, multiply, multiplyVector, traceOfProduct, traceOfSquareProduct } from '../linear-algebra/dense.js'
import type { BlockSums } from './block-sums.js'
import type { BlockedModel } from './blocks.js'
import type { SmallSystem } from './small-system.js'

/** Derivatives of −2·log L by the variances, all components in order. */
export interface CriterionDerivatives {
  readonly gradient: Float64Array
  /** tr(P·A_g·P·A_h): the expected Hessian. */
  readonly expected: Float64Array
  /** 2·y'P·A_g·P·A_h·Py − tr(P·A_g·P·A_h): the Hessian itself. */
  readonly observed: Float64Array
}

/**
 * Exact first and second derivatives, with A_g = Z_g·Z_g':
 *
 *     ∂(−2·log L)/∂σ_g² = tr(P·A_g) − y'P·A_g·Py
 *
 * P = V⁻¹ − V⁻¹W·Ĉ·W'V⁻¹ (V of the blocks, Ĉ the small system's covariance) is never formed: all traces come from the
 * sums over the blocks and products of matrices of the small system's order.
 *
 * Source: Searle, Casella, McCulloch, Variance Components (1992), ch. 6.
 */
export function criterionDerivatives(model: BlockedModel, sums: BlockSums, system: SmallSystem): CriterionDerivatives {
  const count = model.componentNames.length
  const parts = projectedParts(model, sums, system)
  const gradient = new Float64Array(count)
  const expected = new Float64Array(count * count)
  const observed = new Float64Array(count * count)
  const set = (g: number, h: number, trace: number, form: number): void => {
    for (const at of [g * count + h, h * count + g]) {
      expected[at] = trace
      observed[at] = 2 * form - trace
    }
  }
  model.localComponents.forEach((component, g) => {
    const fit = parts.squared[g]![parts.last]!
    gradient[component] = sums.trace[g]! - traceOfProduct(system.covariance, sums.single[g]!) - fit
    for (let h = g; h < model.localComponents.length; h++) {
      const { trace, form } = localPair(sums, system, parts, g, h)
      set(component, model.localComponents[h]!, trace, form)
    }
  })
  model.globalComponents.forEach((own, position) => {
    gradient[own.component] = globalGradient(own, parts)
    for (const other of model.globalComponents.slice(position)) {
      const { trace, form } = globalPair(own, other, parts)
      set(own.component, other.component, trace, form)
    }
    model.localComponents.forEach((component, h) => {
      const { trace, form } = mixedPair(own, parts, h)
      set(own.component, component, trace, form)
    })
  })
  return { gradient, expected, observed }
}

type Span = BlockedModel['globalComponents'][number]

/** Matrices of the small system's order, bordered by y. */
interface ProjectedParts {
  readonly size: number
  /** Index of the entry (y, y). */
  readonly last: number
  /** W'PW. */
  readonly projected: Float64Array
  /** By local component: W'P·A_h·PW. */
  readonly squared: readonly Float64Array[]
  /** By local component: Ĉ·W'V⁻¹A_hV⁻¹W. */
  readonly shrunk: readonly Float64Array[]
  /** P·y = V⁻¹W·q. */
  readonly q: Float64Array
}

function projectedParts(model: BlockedModel, sums: BlockSums, { covariance }: SmallSystem): ProjectedParts {
  const size = model.order + 1
  // I − Ĉ·W'V⁻¹W, so that PW = V⁻¹W·remainder.
  const remainder = multiply(covariance, sums.cross, size, size, size).map((value) => -value)
  for (let i = 0; i < size; i++) remainder[i * size + i]! += 1
  const turned = new Float64Array(size * size)
  for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) turned[i * size + j] = remainder[j * size + i]!
  const between = (matrix: Float64Array): Float64Array =>
    multiply(turned, multiply(matrix, remainder, size, size, size), size, size, size)
  return {
    size,
    last: size * size - 1,
    projected: multiply(sums.cross, remainder, size, size, size),
    squared: sums.single.map(between),
    shrunk: sums.single.map((matrix) => multiply(covariance, matrix, size, size, size)),
    q: Float64Array.from({ length: size }, (_, i) => remainder[i * size + size - 1]!),
  }
}

function localPair(sums: BlockSums, { covariance }: SmallSystem, parts: ProjectedParts, g: number, h: number) {
  const { size, shrunk, q } = parts
  const double = sums.double[g]![h - g]!
  const trace =
    sums.doubleTrace[g]![h - g]! -
    2 * traceOfProduct(covariance, double) +
    traceOfSquareProduct(shrunk[g]!, shrunk[h]!, size)
  const left = multiplyVector(sums.single[g]!, q, size)
  const right = multiplyVector(shrunk[h]!, q, size)
  const form = dot(q, 0, multiplyVector(double, q, size), 0, size) - dot(left, 0, right, 0, size)
  return { trace, form }
}

function globalGradient({ from, count }: Span, { size, projected }: ProjectedParts): number {
  let sum = 0
  for (let i = from; i < from + count; i++) sum += projected[i * size + i]! - projected[i * size + size - 1]! ** 2
  return sum
}

function globalPair(g: Span, h: Span, { size, projected }: ProjectedParts) {
  let trace = 0
  let form = 0
  for (let i = g.from; i < g.from + g.count; i++) {
    for (let j = h.from; j < h.from + h.count; j++) {
      const entry = projected[i * size + j]!
      trace += entry * entry
      form += projected[i * size + size - 1]! * entry * projected[j * size + size - 1]!
    }
  }
  return { trace, form }
}

function mixedPair({ from, count }: Span, { size, projected, squared }: ProjectedParts, h: number) {
  let trace = 0
  let form = 0
  for (let i = from; i < from + count; i++) {
    trace += squared[h]![i * size + i]!
    form += projected[i * size + size - 1]! * squared[h]![i * size + size - 1]!
  }
  return { trace, form }
}
