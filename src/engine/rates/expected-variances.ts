import { type MixedModelFit, RESIDUAL } from '../statistics/mixed-model/types.js'
import { VARIANCE_PRIORS } from './rate-priors.js'

/**
 * Variances to predict with. REML gives the most likely standard deviations; of few boats the true ones may well be larger, but
 * hardly smaller, and what is predicted must reckon with that. With n_σ the number of levels that a standard deviation
 * effectively rests on, its posterior about its mode σ̂ is taken as
 *
 *     p(σ) ∝ σ^(a−1)·e^(−rate·σ)·σ^(−n)·e^(−S/2σ²),   S = σ̂²·(n − a + 1 + rate·σ̂),   n = Σ_levels (1 − PEV/σ̂²)²
 *
 * a gamma prior times the likelihood of n known effects with the sum of squares S, whose mode is σ̂; PEV is the prediction
 * error variance of a level, and n twice the information on log σ. The square of its mean is returned: a normal of
 * that width has nearly the 80 and 90 % intervals of the mixture. With many levels it is σ̂²; with none the prior's mean.
 *
 * @see Searle, Casella, McCulloch (`searle-1992`), 6.6, for the information; Box and Tiao, Bayesian Inference in Statistical
 *   Analysis (1973), 2.3, for the form; from memory
 */
export function expectedVariances(fit: MixedModelFit): Record<string, number> {
  return Object.fromEntries(
    Object.entries(fit.variances).map(([term, variance]) => [
      term,
      expectedSd(Math.sqrt(variance), levelsOf(fit, term), VARIANCE_PRIORS[term]) ** 2,
    ]),
  )
}

function levelsOf(fit: MixedModelFit, term: string): number {
  const variance = fit.variances[term]!
  if (term === RESIDUAL) {
    const { diagonal } = fit.projected()
    const scale = fit.data.residualScale
    return diagonal.reduce((sum, p, row) => sum + (variance * (scale?.[row] ?? 1) * p) ** 2, 0)
  }
  const effects = fit.effects[term] ?? []
  return effects.reduce((sum, { predictionSd }) => sum + Math.max(0, 1 - predictionSd ** 2 / variance) ** 2, 0)
}

/** Steps of the quadrature over log σ, and how far it reaches from the mode: a factor of some fifty. */
const STEPS = 120
const REACH = 4

function expectedSd(mode: number, levels: number, prior: (typeof VARIANCE_PRIORS)[string] | undefined): number {
  if (prior === undefined || prior.kind === 'flat' || !(mode > 0)) return mode
  const squares = Math.max(0, mode ** 2 * (levels - prior.shape + 1 + prior.rate * mode))
  const logDensity = (sd: number) =>
    (prior.shape - 1 - levels) * Math.log(sd) - prior.rate * sd - squares / (2 * sd ** 2)
  const atMode = logDensity(mode)
  let whole = 0
  let mean = 0
  for (let step = 0; step <= STEPS; step++) {
    const sd = mode * Math.exp(REACH * ((2 * step) / STEPS - 1))
    // The step is even in log σ: dσ = σ·d(log σ).
    const weight = Math.exp(logDensity(sd) - atMode) * sd
    whole += weight
    mean += weight * sd
  }
  return mean / whole
}
