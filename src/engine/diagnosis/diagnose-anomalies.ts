import type { RateModel } from '../rates/rate-model.js'
import type { Anomaly } from './anomaly.js'
import { diagnoseIn } from './diagnose.js'
import type { Diagnosis, RecordedCheck } from './diagnosis.js'
import { viewFleet } from './evidence/fleet-view.js'
import type { FleetFacts } from './fleet-facts.js'
import { anomaliesOfReadings } from './reading-anomalies.js'

/**
 * Diagnoses of the anomalies that rates show, and of those that only readings, codes and what is fitted show.
 *
 * @param inRates anomalies detected in the rates
 * @param checksOf what was found on purpose since, by anomaly
 */
export function diagnoseAnomalies(
  model: RateModel,
  facts: FleetFacts,
  inRates: readonly Anomaly[],
  checksOf: (anomaly: Anomaly) => readonly RecordedCheck[],
): Diagnosis[] {
  const fleet = viewFleet(model, facts)
  const anomalies = [...inRates, ...anomaliesOfReadings(fleet, inRates)]
  return anomalies.map((anomaly) => diagnoseIn(fleet, anomaly, checksOf(anomaly)))
}
