import { fitRates } from '../rates/fit-rates.js'
import type { FleetHistory } from '../rates/fleet-history.js'
import type { LearnedExponent } from '../rates/learn-exponents.js'
import type { ObservationModel } from '../rates/observation-model.js'
import { SEASON_COLUMNS } from '../rates/rate-design.js'
import { priorLogRate, type RateModel } from '../rates/rate-model.js'
import type { Prediction } from '../statistics/mixed-model/types.js'
import { anodesInPlace, outlookOf } from './anode-outlook.js'
import type { FilteredConsumption } from './filtered-mass.js'
import { type AnodeForecast, forecastAnode } from './forecast-anode.js'

/** An estimate with its standard error, on the log scale of the rate. */
export interface NamedEstimate {
  readonly name: string
  readonly estimate: number
  readonly se: number
}

/** What the fit found, for people and programs to look at. */
export interface ModelSummary {
  readonly intervals: number
  readonly anodes: number
  readonly boats: number
  /** How the masses were read: season, depletion exponents, errors of weighing, usual cores. */
  readonly observation: ObservationModel
  /** Standard errors of the season's amplitudes. */
  readonly seasonSe: { readonly cos: number; readonly sin: number }
  /** Depletion exponents by shape with their evidence. */
  readonly exponents: readonly LearnedExponent[]
  /** Variances of the log rate: boat, berth, anode, residual. */
  readonly variances: Readonly<Record<string, number>>
  readonly fixed: readonly NamedEstimate[]
  /** Effects on the log rate: above 0 is faster than the fleet. */
  readonly boatEffects: readonly NamedEstimate[]
  readonly berthEffects: readonly NamedEstimate[]
}

/** What of an outlook is kept: enough to draw the curve and to score the forecast later. */
export interface KeptOutlook {
  readonly logRate: Prediction
  readonly path: readonly FilteredConsumption[]
}

export interface FleetForecast {
  readonly asOf: number
  readonly summary: ModelSummary
  readonly anodes: readonly { readonly key: string; readonly forecast: AnodeForecast; readonly outlook: KeptOutlook }[]
}

/**
 * The main job in one call: fits a fleet's rates and forecasts every anode in place.
 *
 * @param history what is known on the day `asOf` (`knownBy`)
 * @param asOf day number
 * @throws NotConverged where the fit does not settle
 */
export function forecastFleet(history: FleetHistory, asOf: number): FleetForecast {
  const model = fitRates(history, asOf)
  const anodes = anodesInPlace(model).map(({ boat, anode }) => {
    const outlook = outlookOf(model, boat, anode)
    const { logRate, path } = outlook
    return { key: anode.history.key, forecast: forecastAnode(model, outlook), outlook: { logRate, path } }
  })
  return { asOf, summary: summaryOf(model), anodes }
}

function summaryOf(model: RateModel): ModelSummary {
  const fixed = model.fit === null ? priorEstimates(model) : model.fit.fixed.map((each) => ({ ...each }))
  return {
    intervals: model.intervals.length,
    anodes: model.boats.reduce((sum, { anodes }) => sum + anodes.length, 0),
    boats: model.boats.length,
    observation: model.observation,
    seasonSe: { cos: seOf(fixed, SEASON_COLUMNS.cos), sin: seOf(fixed, SEASON_COLUMNS.sin) },
    exponents: model.exponents,
    variances: { ...model.variances },
    fixed: fixed.filter(({ name }) => !isSeason(name)),
    boatEffects: effectsOf(model, 'boat'),
    berthEffects: effectsOf(model, 'berth'),
  }
}

/** The season's columns hold what its amplitudes in `observation` are off by: next to nothing, and not for people. */
const isSeason = (name: string) => name === SEASON_COLUMNS.cos || name === SEASON_COLUMNS.sin
const seOf = (estimates: readonly NamedEstimate[], name: string) =>
  estimates.find((each) => each.name === name)?.se ?? 0

function priorEstimates(model: RateModel): NamedEstimate[] {
  return model.design.names.map((name, column) => {
    const fixed = model.design.names.map((_, other) => (other === column ? 1 : 0))
    const { mean, variance } = priorLogRate(model, { fixed, random: {} })
    return { name, estimate: mean, se: Math.sqrt(variance) }
  })
}

function effectsOf(model: RateModel, term: string): NamedEstimate[] {
  return (model.fit?.effects[term] ?? []).map(({ level, mode, predictionSd }) => ({
    name: level,
    estimate: mode,
    se: predictionSd,
  }))
}
