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
  /** Average of observed and expected Hessian; never negative but for the bend of the log scale. */
  readonly average: Float64Array
  /** The same without that bend. */
  readonly information: Float64Array
  /** Lower bound of the diagonal of the expected Hessian. */
  readonly leastExpected: Float64Array
}

/**
 * Adds −2·log prior and changes to the scales of the search. With v = e^φ and sd = √v,
 *
 *     −2·log p(sd) = −(shape − 1)·φ + 2·rate·e^(φ/2)
 *
 * and the second derivative by φ is v²·f'' + v·f', of which expected information has no v·f': their average has half.
 */
export function penalise(at: Evaluation, components: readonly SearchComponent[], variances: readonly number[]): Point {
  const count = components.length
  const slope = components.map(({ scale }, g) => (scale === 'log' ? variances[g]! : 1))
  let value = at.criterion
  const gradient = at.gradient.map((own, g) => own * slope[g]!)
  const information = at.average.map((entry, k) => entry * slope[Math.floor(k / count)]! * slope[k % count]!)
  const leastExpected = at.leastExpected.map((own, g) => own * slope[g]! ** 2)
  const average = information.slice()
  components.forEach(({ scale, prior }, g) => {
    if (scale !== 'log') return
    average[g * count + g]! += gradient[g]! / 2
    if (prior.kind === 'flat') return
    const variance = variances[g]!
    const pull = prior.rate * Math.sqrt(variance)
    value += 2 * pull - (prior.shape - 1) * Math.log(variance)
    gradient[g]! += pull - (prior.shape - 1)
    for (const matrix of [average, information]) matrix[g * count + g]! += pull / 2
  })
  return { value, gradient, average, information, leastExpected }
}
