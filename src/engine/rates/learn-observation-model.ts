import type { FleetHistory } from './fleet-history.js'
import { learnCores } from './learn-cores.js'
import { learnErrors } from './learn-errors.js'
import { type LearnedExponent, learnExponents } from './learn-exponents.js'
import type { ObservationModel } from './observation-model.js'
import { observeFleet } from './rate-intervals.js'
import { weighingPairs } from './weighing-pairs.js'

/**
 * Learns from a fleet how its masses are to be read: usual cores first, then the errors of weighing from pairs, then the
 * exponents of the depletion law. The season comes with the rates.
 *
 * @param start the season to weight exposure with, and defaults
 */
export function learnObservationModel(
  fleet: FleetHistory,
  asOf: number,
  start: ObservationModel,
): { readonly model: ObservationModel; readonly exponents: readonly LearnedExponent[] } {
  const withCores = { ...start, cores: learnCores(fleet) }
  const withErrors = { ...withCores, errors: learnErrors(weighingPairs(observeFleet(fleet, asOf, withCores))) }
  const exponents = learnExponents(observeFleet(fleet, asOf, withErrors).flatMap(({ anodes }) => anodes))
  const model = {
    ...withErrors,
    exponents: Object.fromEntries(exponents.map(({ shape, exponent }) => [shape, exponent])),
  }
  return { model, exponents }
}
