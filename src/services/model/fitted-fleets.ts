import type { Anomaly } from '../../engine/diagnosis/anomaly.js'
import { detectAnomalies } from '../../engine/diagnosis/detection/detect.js'
import { diagnose } from '../../engine/diagnosis/diagnose.js'
import { diagnoseAnomalies } from '../../engine/diagnosis/diagnose-anomalies.js'
import type { Diagnosis, RecordedCheck } from '../../engine/diagnosis/diagnosis.js'
import { presentRates } from '../../engine/diagnosis/present-rates.js'
import { forecastFitted, forecastInPlace, type KeyedForecast } from '../../engine/forecast/fleet-forecast.js'
import type { AnodeForecast } from '../../engine/forecast/forecast-anode.js'
import { forecastPlan } from '../../engine/forecast/what-if.js'
import { fitRates } from '../../engine/rates/fit-rates.js'
import type { FleetHistory } from '../../engine/rates/fleet-history.js'
import type { RateModel } from '../../engine/rates/rate-model.js'
import { updateBoat } from '../../engine/rates/update-boat.js'
import { likenessBy, pairFaults } from '../findings/same-fault.js'
import type {
  BoatUpdates,
  CheckedFault,
  CheckQuestion,
  ComputeForecasts,
  DiagnosedFleet,
  FleetQuestion,
  PlanQuestion,
} from './compute-forecasts.js'
import { KeptFits } from './kept-fits.js'

/** The engine with the fits it made last, in the thread that calls it. */
export class FittedFleets implements ComputeForecasts {
  readonly #fits = new KeptFits()
  readonly #detect: typeof detectAnomalies

  /** @param detect finds the anomalies of a fitted fleet */
  constructor(detect = detectAnomalies) {
    this.#detect = detect
  }

  async compute(question: FleetQuestion, key?: string): Promise<DiagnosedFleet> {
    const { history, asOf, facts, falseDiscoveryRate, checked } = question
    const model = fitRates(history, asOf)
    const inRates = this.#detect(model, facts, { falseDiscoveryRate })
    const diagnoses = diagnoseAnomalies(model, facts, inRates, checksBy(checked, history))
    const present = presentRates(model, diagnoses)
    if (key !== undefined) this.#fits.keep(key, { model, present, facts })
    return { ...forecastFitted(model, present), diagnoses }
  }

  async plan({ key, boat, plan }: PlanQuestion): Promise<ReadonlyMap<string, AnodeForecast> | null> {
    const fitted = this.#fits.get(key)
    return fitted === undefined ? null : forecastPlan(fitted.model, boat, plan, fitted.present)
  }

  async update({ key, newKey, boats }: BoatUpdates): Promise<readonly KeyedForecast[] | null> {
    const fitted = this.#fits.get(key)
    if (fitted === undefined) return null
    let model: RateModel | null = fitted.model
    for (const boat of boats) model = model && updateBoat(model, boat)
    if (model === null) return null
    const updated = model
    this.#fits.keep(newKey, { ...fitted, model })
    return boats.flatMap(({ boat }) => forecastInPlace(updated, boat, fitted.present))
  }

  async diagnose({ key, anomaly, checks }: CheckQuestion): Promise<Diagnosis | null> {
    const fitted = this.#fits.get(key)
    return fitted === undefined ? null : diagnose(anomaly, fitted.model, fitted.facts, checks)
  }
}

/** The checks that were made on an anomaly, from when it was seen earlier. */
function checksBy(
  checked: readonly CheckedFault[],
  history: FleetHistory,
): (anomaly: Anomaly) => readonly RecordedCheck[] {
  if (checked.length === 0) return () => []
  const places = new Map(
    history.boats.flatMap(({ boat, anodes }) =>
      anodes.map(({ key, position }) => [key, `${boat}/${position}`] as const),
    ),
  )
  const likeness = likenessBy((key) => places.get(key))
  return (anomaly) =>
    [...pairFaults(checked, [anomaly], ({ trace }, seen) => likeness(trace, seen)).values()].flatMap(
      ({ checks }) => checks,
    )
}
