import { CSV_FILE_NAMES } from '../../../src/contract/csv/index.js'
import { detectAnomalies } from '../../../src/engine/diagnosis/detection/detect.js'
import { diagnoseIn } from '../../../src/engine/diagnosis/diagnose.js'
import type { Diagnosis } from '../../../src/engine/diagnosis/diagnosis.js'
import { viewFleet } from '../../../src/engine/diagnosis/evidence/fleet-view.js'
import { anomaliesOfReadings } from '../../../src/engine/diagnosis/reading-anomalies.js'
import { knownBy } from '../../../src/engine/forecast/anode-outlook.js'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import { readFleetFiles } from '../../../src/services/fleet-files/read-fleet-files.js'
import { recordedFleetOf } from '../../../src/services/fleet-files/recorded-fleet.js'
import { fleetFactsOf } from '../../../src/services/model/fleet-facts.js'
import { fleetHistoryOf } from '../../../src/services/model/fleet-history.js'
import type { FleetRows } from '../simulated-fleet.js'
import { fileText } from '../write-files.js'

/** The organisation's default. */
const FALSE_DISCOVERY_RATE = 0.05

/** The findings of a fleet from its files: read as the import reads them, fitted, judged, their causes ranked. */
export async function diagnoseFiles(rows: FleetRows, asOf: number): Promise<Diagnosis[]> {
  const files = CSV_FILE_NAMES.map((name) => ({ name, content: asContent(fileText(rows, name)) }))
  const records = recordedFleetOf(await readFleetFiles(files))
  const history = knownBy(fleetHistoryOf(records), asOf, asOf)
  const facts = fleetFactsOf(records)
  const model = fitRates(history, asOf)
  const view = viewFleet(model, facts)
  const inRates = detectAnomalies(model, facts, { falseDiscoveryRate: FALSE_DISCOVERY_RATE })
  const anomalies = [...inRates, ...anomaliesOfReadings(view, inRates)]
  return anomalies.map((anomaly) => diagnoseIn(view, anomaly, []))
}

async function* asContent(text: string): AsyncGenerator<Uint8Array> {
  yield Buffer.from(text, 'utf8')
}
