import type { RateModel } from '../rates/rate-model.js'
import type { Anomaly } from './anomaly.js'
import { detectAnomalies } from './detection/detect.js'
import { diagnoseAnomalies } from './diagnose-anomalies.js'
import type { Diagnosis, RecordedCheck } from './diagnosis.js'
import type { FleetFacts } from './fleet-facts.js'

/** How a fleet is to be diagnosed. */
export interface FleetDiagnosisOptions {
  /** Share of false ones among the anomalies of the rates, controlled over the batch; in (0, 1). */
  readonly falseDiscoveryRate: number
  /** What was found on purpose since, by anomaly; nothing unless given. */
  readonly checksOf?: (anomaly: Anomaly) => readonly RecordedCheck[]
}

/**
 * All that is abnormal in a fleet with what may lie behind it: first what the rates show, then what only readings, codes and what is
 * fitted show. A reading that explains an anomaly of the rates is evidence of that one, not a second finding.
 *
 * @param model the fleet's rates as fitted
 * @param facts what else is known of the fleet at the same day
 */
export function diagnoseFleet(model: RateModel, facts: FleetFacts, options: FleetDiagnosisOptions): Diagnosis[] {
  const { falseDiscoveryRate, checksOf = () => [] } = options
  return diagnoseAnomalies(model, facts, detectAnomalies(model, facts, { falseDiscoveryRate }), checksOf)
}
