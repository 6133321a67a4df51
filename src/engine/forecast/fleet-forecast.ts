import { fitRates } from '../rates/fit-rates.js'
import type { FleetHistory } from '../rates/fleet-history.js'
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
  return {
    intervals: model.intervals.length,
    anodes: model.boats.reduce((sum, { anodes }) => sum + anodes.length, 0),
    boats: model.boats.length,
    variances: { ...model.variances },
    fixed: model.fit === null ? priorEstimates(model) : model.fit.fixed.map((each) => ({ ...each })),
    boatEffects: effectsOf(model, 'boat'),
    berthEffects: effectsOf(model, 'berth'),
  }
}

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
