import type { LinearTarget, MixedModelFit, Prediction } from '../statistics/mixed-model/types.js'
import type { LearnedExponent } from './learn-exponents.js'
import type { ObservationModel } from './observation-model.js'
import type { RateDesign } from './rate-design.js'
import type { ObservedBoat, RateInterval } from './rate-intervals.js'
import { VARIANCE_PRIORS } from './rate-priors.js'

/** A fleet's rates as fitted: the parameters, and what each interval said. */
export interface RateModel {
  readonly asOf: number
  /** How the masses were read, season included. */
  readonly observation: ObservationModel
  /** The depletion exponents in it, with what speaks for them. */
  readonly exponents: readonly LearnedExponent[]
  readonly boats: readonly ObservedBoat[]
  readonly design: RateDesign
  readonly intervals: readonly RateInterval[]
  /** `null` before the first interval: predictions then rest on the priors alone. */
  readonly fit: MixedModelFit | null
  /** Variances on the log scale, of `RATE_TERMS` and `residual`; before the first interval the modes of their priors. */
  readonly variances: Readonly<Record<string, number>>
  /** Most likely log rate of each interval, its own noise included [log g/d]. */
  readonly logRates: Float64Array
  /** Weight each interval got: about 1, near 0 for one that stands out. */
  readonly weights: Float64Array
}

/** Mean and variance of a log rate without the noise of an interval. */
export function predictLogRate(model: RateModel, target: LinearTarget): Prediction {
  return model.fit === null ? priorLogRate(model, target) : model.fit.predict(target)
}

/** The same from the priors alone, as if no interval had been seen (variances as in the model). */
export function priorLogRate(model: Pick<RateModel, 'design' | 'variances'>, target: LinearTarget): Prediction {
  let mean = 0
  let variance = 0
  model.design.beliefs.forEach((belief, column) => {
    const x = target.fixed[column]!
    mean += x * belief.mean
    variance += (x * belief.sd) ** 2
  })
  for (const [term, members] of Object.entries(target.random)) {
    for (const { weight } of members) variance += weight ** 2 * model.variances[term]!
  }
  return { mean, variance }
}

/** Variances at the modes of their priors. */
export function priorVariances(): Record<string, number> {
  return Object.fromEntries(
    Object.entries(VARIANCE_PRIORS).map(([term, prior]) => {
      if (prior.kind === 'flat') throw new Error(`the rate model needs a proper prior for ${term}`)
      return [term, ((prior.shape - 1) / prior.rate) ** 2]
    }),
  )
}
