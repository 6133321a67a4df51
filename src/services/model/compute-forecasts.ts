import type { Anomaly } from '../../engine/diagnosis/anomaly.js'
import type { Diagnosis, RecordedCheck } from '../../engine/diagnosis/diagnosis.js'
import type { FleetFacts } from '../../engine/diagnosis/fleet-facts.js'
import type { FleetForecast, KeyedForecast } from '../../engine/forecast/fleet-forecast.js'
import type { AnodeForecast } from '../../engine/forecast/forecast-anode.js'
import type { Plan } from '../../engine/forecast/what-if.js'
import type { BoatHistory, FleetHistory } from '../../engine/rates/fleet-history.js'
import type { Trace } from '../findings/same-fault.js'

/** Everything that a fleet's forecasts and diagnoses as of a day rest on. */
export interface FleetQuestion {
  readonly history: FleetHistory
  readonly asOf: number
  readonly facts: FleetFacts
  /** Share of false ones that is accepted among the anomalies. */
  readonly falseDiscoveryRate: number
  readonly checked: readonly CheckedFault[]
}

/** The checks that were made on an anomaly seen earlier. */
export interface CheckedFault {
  readonly trace: Trace
  readonly checks: readonly RecordedCheck[]
}

export interface DiagnosedFleet extends FleetForecast {
  readonly diagnoses: readonly Diagnosis[]
}

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

/** An anomaly to be weighed anew with the checks made, put to a fleet that was fitted under `key`. */
export interface CheckQuestion {
  readonly key: string
  readonly anomaly: Anomaly
  readonly checks: readonly RecordedCheck[]
}

/** Runs the engine somewhere that does not hold up requests. Fits are kept for a while under the key given with them. */
export interface ComputeForecasts {
  /** @throws what the engine throws, by name and message */
  compute(question: FleetQuestion, key?: string): Promise<DiagnosedFleet>
  /** By anode key; `null` where no fit is kept under the key, or it has no such boat. */
  plan(question: PlanQuestion): Promise<ReadonlyMap<string, AnodeForecast> | null>
  /** `null` where no fit is kept under the key, or a boat needs the fleet fitted anew. */
  update(updates: BoatUpdates): Promise<readonly KeyedForecast[] | null>
  /** `null` where no fit is kept under the key. */
  diagnose(question: CheckQuestion): Promise<Diagnosis | null>
}
