import { fitMixedModel } from '../statistics/mixed-model/fit.js'
import { expectedVariances } from './expected-variances.js'
import type { FleetHistory } from './fleet-history.js'
import type { LearnedExponent } from './learn-exponents.js'
import { learnObservationModel } from './learn-observation-model.js'
import { defaultObservationModel, type ObservationModel } from './observation-model.js'
import { RateDesign, SEASON_COLUMNS } from './rate-design.js'
import { contextOf, countsInFit, intervalsOf, type ObservedBoat, observeFleet } from './rate-intervals.js'
import { priorVariances, type RateModel } from './rate-model.js'
import { type Season, type SeasonPrior, seasonPriorAt } from './season.js'
import { type SettledRates, settle } from './settle-rates.js'
import { rateRows } from './working-data.js'

/** The days ahead whose berths decide what a forecast's rate depends on. */
export const FORECAST_CONTEXT_DAYS = 365

/** Exposure is weighted anew until the season's amplitudes move by less than this: one percent of a rate. */
const SEASON_SETTLED = 0.01
const MOST_SEASON_PASSES = 4

/**
 * Fits a fleet's depletion rates:
 *
 *     log k = intercept + alloy×water + position + size + demand + boat + berth + anode + residual
 *     u_obs ~ Normal(e^(log k)·exposure, weighing variance)
 *
 * Exposure is weighted by season; boat, berth and anode effects are random; berths enter by multiple membership, in proportion
 * to the exposure there. The residual is a Student t of four degrees of freedom, as a scale mixture. The likelihood of the losses,
 * negative ones too, is linearised about the most likely log rates (Laplace), the variances are estimated by penalised REML
 * on that. The season's amplitudes enter as columns: by how much the exposure's weights are off; the exposure is weighted
 * anew until they are not. A boat that is weighed every spring has columns near zero and says nothing of the season.
 *
 * @param fleet what is known at `asOf`
 * @param asOf day number
 * @throws NotConverged where the iteration does not settle
 * @see docs/model.md, section "Rate model"
 */
export function fitRates(fleet: FleetHistory, asOf: number): RateModel {
  const latitude = meanLatitude(fleet)
  const prior = seasonPriorAt(latitude)
  const learned = learnObservationModel(fleet, asOf, defaultObservationModel(latitude))
  let observation = learned.model
  let settled: SettledRates | undefined
  for (let pass = 1; ; pass++) {
    const attempt = fitWith(fleet, asOf, { observation, prior, exponents: learned.exponents }, settled)
    settled = attempt.settled
    const moved = attempt.settled === undefined ? undefined : seasonMoved(attempt.settled)
    if (moved === undefined || moved.size < SEASON_SETTLED || pass === MOST_SEASON_PASSES) return attempt.model
    const { season } = observation
    const next: Season = { ...season, cos: season.cos + moved.cos, sin: season.sin + moved.sin }
    observation = { ...observation, season: next }
  }
}

interface Reading {
  readonly observation: ObservationModel
  readonly prior: SeasonPrior
  readonly exponents: readonly LearnedExponent[]
}

function fitWith(fleet: FleetHistory, asOf: number, reading: Reading, start: SettledRates | undefined) {
  const { observation, prior, exponents } = reading
  const boats = observeFleet(fleet, asOf, observation)
  const intervals = boats.flatMap(intervalsOf)
  const beliefs = {
    cos: { mean: prior.season.cos - observation.season.cos, sd: prior.cosSd },
    sin: { mean: prior.season.sin - observation.season.sin, sd: prior.sinSd },
  }
  const contexts = [...intervals.map(({ context }) => context), ...boats.flatMap((boat) => futureContexts(boat, asOf))]
  const design = new RateDesign(fleet.berths, beliefs, contexts)
  const common = { asOf, observation, exponents, boats, design, intervals }
  if (intervals.length === 0) {
    const nothing = new Float64Array(0)
    const model: RateModel = { ...common, fit: null, variances: priorVariances(), logRates: nothing, weights: nothing }
    return { model, settled: undefined }
  }
  const rows = rateRows(design, intervals)
  const settled = settle(design, rows, start)
  const { logRates, scale } = settled
  const heldVariances = expectedVariances(settled.fit)
  const fit = fitMixedModel(settled.fit.data, { heldVariances, like: settled.fit })
  const weights = scale.map((each, row) => (countsInFit(intervals[row]!) ? rows.noise[row]! / each : 0))
  const model: RateModel = { ...common, fit, variances: fit.variances, logRates, weights }
  return { model, settled }
}

/** How far the fit would move the season's amplitudes. */
function seasonMoved({ fit }: SettledRates) {
  const estimate = (name: string) => fit.fixed.find((each) => each.name === name)?.estimate ?? 0
  const cos = estimate(SEASON_COLUMNS.cos)
  const sin = estimate(SEASON_COLUMNS.sin)
  return { cos, sin, size: Math.hypot(cos, sin) }
}

function futureContexts(boat: ObservedBoat, asOf: number) {
  return boat.anodes.map((anode) => contextOf(boat, anode, asOf, asOf + FORECAST_CONTEXT_DAYS))
}

/** Waters of one organisation share their seasons: the mean of the berths whose latitude is known. */
function meanLatitude(fleet: FleetHistory): number | null {
  const known = fleet.berths.flatMap(({ latitude }) => latitude ?? [])
  return known.length === 0 ? null : known.reduce((sum, each) => sum + each, 0) / known.length
}
