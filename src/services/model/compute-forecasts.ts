import type { FleetForecast } from '../../engine/forecast/fleet-forecast.js'
import type { FleetHistory } from '../../engine/rates/fleet-history.js'

/** Runs the engine somewhere that does not hold up requests. */
export interface ComputeForecasts {
  /** @throws what the engine throws, by name and message */
  compute(history: FleetHistory, asOf: number): Promise<FleetForecast>
}
