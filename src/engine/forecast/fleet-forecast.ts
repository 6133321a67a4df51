import { fitRates } from '../rates/fit-rates.js'
import type { FleetHistory } from '../rates/fleet-history.js'
import type { LearnedExponent } from '../rates/learn-exponents.js'
import type { ObservationModel } from '../rates/observation-model.js'
import { MIXING_COLUMN, SEASON_COLUMNS } from '../rates/rate-design.js'
import { priorLogRate, type RateModel } from '../rates/rate-model.js'
import type { Prediction } from '../statistics/mixed-model/types.js'
import { anodesInPlace, outlookOf } from './anode-outlook.js'
import type { FilteredConsumption } from './filtered-mass.js'
import { type AnodeForecast, forecastAnode } from './forecast-anode.js'
import type { Ahead } from './paced-exposure.js'
import { followPresent, NO_PRESENT_RATES, type PresentRates } from './present-rate.js'
import { type IntervalWeight, type Standout, standoutsOf, weightsOfAnode } from './standouts.js'

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
  /** The intervals that stand out most, the least counted first, and how many stand out in all. */
  readonly standouts: readonly Standout[]
  readonly standoutCount: number
}

/** More than anybody looks at. Convention. */
const MOST_STANDOUTS_KEPT = 200

/** What of an outlook is kept: enough to draw the curve and to score the forecast later. */
export interface KeptOutlook {
  readonly logRate: Prediction
  readonly path: readonly FilteredConsumption[]
  /** Forecasts issued by older versions have none: one pace throughout. */
  readonly ahead?: Ahead
  /** Variance of a year's noise; forecasts issued by older versions have it in their variances. */
  readonly noise?: number
  /** Of the last consumption with the log rate; forecasts issued by older versions took them as independent. */
  readonly covariance?: number
  /** Of its intervals so far, in order of time; forecasts issued by older versions have none. */
  readonly weights?: readonly IntervalWeight[]
}

/** The forecast of one anode, with what it was computed from. */
export interface KeyedForecast {
  readonly key: string
  readonly forecast: AnodeForecast
  readonly outlook: KeptOutlook
}

export interface FleetForecast {
  readonly asOf: number
  readonly summary: ModelSummary
  readonly anodes: readonly KeyedForecast[]
}

/**
 * The main job in one call: fits a fleet's rates and forecasts every anode in place.
 *
 * @param history what is known on the day `asOf` (`knownBy`)
 * @param asOf day number
 * @throws NotConverged where the fit does not settle
 */
export function forecastFleet(history: FleetHistory, asOf: number): FleetForecast {
  return forecastFitted(fitRates(history, asOf))
}

/**
 * The same from rates that are fitted already.
 *
 * @param present of anodes under an open fault, which go on as they do now
 */
export function forecastFitted(model: RateModel, present: PresentRates = NO_PRESENT_RATES): FleetForecast {
  return { asOf: model.asOf, summary: summaryOf(model), anodes: forecastInPlace(model, undefined, present) }
}

/** The forecasts of a model's anodes in place, of all boats or of one. */
export function forecastInPlace(
  model: RateModel,
  boatName?: string,
  present: PresentRates = NO_PRESENT_RATES,
): KeyedForecast[] {
  return anodesInPlace(model)
    .filter(({ boat }) => boatName === undefined || boat.history.boat === boatName)
    .map(({ boat, anode }) => {
      const outlook = followPresent(outlookOf(model, boat, anode), present.get(anode.history.key))
      const { logRate, path, ahead, noise, covariance } = outlook
      const { key } = anode.history
      const weights = weightsOfAnode(model, key)
      return {
        key,
        forecast: forecastAnode(model, outlook),
        outlook: { logRate, path, ahead, noise, covariance, weights },
      }
    })
}

function summaryOf(model: RateModel): ModelSummary {
  const fixed = model.fit === null ? priorEstimates(model) : model.fit.fixed.map((each) => ({ ...each }))
  const standouts = standoutsOf(model)
  return {
    intervals: model.intervals.length,
    anodes: model.boats.reduce((sum, { anodes }) => sum + anodes.length, 0),
    boats: model.boats.length,
    observation: model.observation,
    seasonSe: { cos: seOf(fixed, SEASON_COLUMNS.cos), sin: seOf(fixed, SEASON_COLUMNS.sin) },
    exponents: model.exponents,
    variances: { ...model.variances },
    fixed: fixed.filter(({ name }) => !isSeason(name) && name !== MIXING_COLUMN),
    boatEffects: effectsOf(model, 'boat'),
    berthEffects: effectsOf(model, 'berth'),
    standouts: standouts.slice(0, MOST_STANDOUTS_KEPT),
    standoutCount: standouts.length,
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
