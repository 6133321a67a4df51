import type { FleetForecast, KeyedForecast } from '../../engine/forecast/fleet-forecast.js'
import type { AnodeForecast } from '../../engine/forecast/forecast-anode.js'
import type { Plan } from '../../engine/forecast/what-if.js'
import type { BoatHistory, FleetHistory } from '../../engine/rates/fleet-history.js'

/** A question about a boat, put to a fleet that was fitted under `key`. */
export interface PlanQuestion {
  readonly key: string
  readonly boat: string
  readonly plan: Plan
}

/** Boats with something new, put to a fleet that was fitted under `key`; what comes out is kept under `newKey`. */
export interface BoatUpdates {
  readonly key: string
  readonly newKey: string
  readonly boats: readonly BoatHistory[]
}

/** Runs the engine somewhere that does not hold up requests. Fits are kept for a while under the key given with them. */
export interface ComputeForecasts {
  /** @throws what the engine throws, by name and message */
  compute(history: FleetHistory, asOf: number, key?: string): Promise<FleetForecast>
  /** By anode key; `null` where no fit is kept under the key, or it has no such boat. */
  plan(question: PlanQuestion): Promise<ReadonlyMap<string, AnodeForecast> | null>
  /** `null` where no fit is kept under the key, or a boat needs the fleet fitted anew. */
  update(updates: BoatUpdates): Promise<readonly KeyedForecast[] | null>
}
