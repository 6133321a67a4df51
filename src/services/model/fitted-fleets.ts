import {
  type FleetForecast,
  forecastFitted,
  forecastInPlace,
  type KeyedForecast,
} from '../../engine/forecast/fleet-forecast.js'
import type { AnodeForecast } from '../../engine/forecast/forecast-anode.js'
import { forecastPlan } from '../../engine/forecast/what-if.js'
import { fitRates } from '../../engine/rates/fit-rates.js'
import type { FleetHistory } from '../../engine/rates/fleet-history.js'
import type { RateModel } from '../../engine/rates/rate-model.js'
import { updateBoat } from '../../engine/rates/update-boat.js'
import type { BoatUpdates, ComputeForecasts, PlanQuestion } from './compute-forecasts.js'

/** Fits in memory: a fleet of 150 boats takes some 20 MB. */
const KEPT_FITS = 4

/** The engine with the fits it made last, in the thread that calls it. */
export class FittedFleets implements ComputeForecasts {
  readonly #fits = new Map<string, RateModel>()

  async compute(history: FleetHistory, asOf: number, key?: string): Promise<FleetForecast> {
    const model = fitRates(history, asOf)
    if (key !== undefined) this.#keep(key, model)
    return forecastFitted(model)
  }

  async plan({ key, boat, plan }: PlanQuestion): Promise<ReadonlyMap<string, AnodeForecast> | null> {
    const model = this.#fits.get(key)
    return model === undefined ? null : forecastPlan(model, boat, plan)
  }

  async update({ key, newKey, boats }: BoatUpdates): Promise<readonly KeyedForecast[] | null> {
    let model = this.#fits.get(key) ?? null
    for (const boat of boats) model = model && updateBoat(model, boat)
    if (model === null) return null
    this.#keep(newKey, model)
    const updated = model
    return boats.flatMap(({ boat }) => forecastInPlace(updated, boat))
  }

  #keep(key: string, model: RateModel): void {
    this.#fits.delete(key)
    this.#fits.set(key, model)
    const [oldest] = this.#fits.keys()
    if (this.#fits.size > KEPT_FITS && oldest !== undefined) this.#fits.delete(oldest)
  }
}
