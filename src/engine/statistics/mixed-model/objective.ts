import type { Evaluation } from './evaluate.js'
import type { VariancePrior } from './types.js'

/** How one variance is searched. */
export interface SearchComponent {
  readonly scale: 'variance' | 'log' | 'held'
  readonly prior: VariancePrior
}

/** Penalised criterion with derivatives on the scale on which each variance is searched. */
export interface Point {
  readonly value: number
  readonly gradient: Float64Array
  readonly observed: Float64Array
  readonly expected: Float64Array
}

/** Penalised criterion at variances by component; undefined where the covariance of y is singular. */
export type Objective = (variances: readonly number[]) => Point | undefined

/**
 * Adds −2·log prior and changes to the scales of the search. With v = e^φ and sd = √v,
 *
 *     −2·log p(sd) = −(shape − 1)·φ + 2·rate·e^(φ/2)
 */
export function penalise(at: Evaluation, components: readonly SearchComponent[], variances: readonly number[]): Point {
  const count = components.length
  const slope = components.map(({ scale }, g) => (scale === 'log' ? variances[g]! : 1))
  let value = at.criterion
  const gradient = at.gradient.map((own, g) => own * slope[g]!)
  const scaled = (matrix: Float64Array): Float64Array =>
    matrix.map((entry, k) => entry * slope[Math.floor(k / count)]! * slope[k % count]!)
  const observed = scaled(at.observed)
  const expected = scaled(at.expected)
  components.forEach(({ scale, prior }, g) => {
    if (scale !== 'log') return
    observed[g * count + g]! += gradient[g]!
    if (prior.kind === 'flat') return
    const variance = variances[g]!
    const pull = prior.rate * Math.sqrt(variance)
    value += 2 * pull - (prior.shape - 1) * Math.log(variance)
    gradient[g]! += pull - (prior.shape - 1)
    observed[g * count + g]! += pull / 2
    expected[g * count + g]! += pull / 2
  })
  return { value, gradient, observed, expected }
}
