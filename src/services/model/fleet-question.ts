import type { KeptCheck } from '../../db/repositories/findings.js'
import type { FleetRecords } from '../../db/repositories/fleet-records.js'
import type { RecordedCheck } from '../../engine/diagnosis/diagnosis.js'
import { knownBy } from '../../engine/forecast/anode-outlook.js'
import type { FleetHistory } from '../../engine/rates/fleet-history.js'
import { dayNumber } from '../dates/day-numbers.js'
import { validChecks, withExplainedWear } from '../findings/explained-wear.js'
import { tracesUnderTodaysNames } from '../findings/seen-faults.js'
import type { CheckedFault, FleetQuestion } from './compute-forecasts.js'
import { factsKnownBy, fleetFactsOf } from './fleet-facts.js'
import { fleetHistoryOf } from './fleet-history.js'

/** Share of false findings that is accepted where the organisation says nothing. Convention: 5 %. */
export const DEFAULT_FALSE_DISCOVERY_RATE = 0.05

/**
 * What of a fleet's rows was known on a day, as the engine is asked about it.
 *
 * @param asOf day number
 * @param today day number, as in `knownBy`
 */
export function fleetQuestion(records: FleetRecords, asOf: number, today: number): FleetQuestion {
  return {
    history: historyKnownBy(records, asOf, today),
    asOf,
    facts: factsKnownBy(fleetFactsOf(records), asOf, today),
    falseDiscoveryRate: records.falseDiscoveryRate ?? DEFAULT_FALSE_DISCOVERY_RATE,
    checked: checkedFaults(records, asOf),
  }
}

/** The history alone, with the wear in it that findings explain. */
export function historyKnownBy(records: FleetRecords, asOf: number, today: number): FleetHistory {
  return withExplainedWear(knownBy(fleetHistoryOf(records), asOf, today), records.findings, asOf)
}

function checkedFaults(records: FleetRecords, asOf: number): CheckedFault[] {
  const traces = tracesUnderTodaysNames(records, records.findings)
  return records.findings.flatMap((finding) => {
    const checks = recordedChecks(validChecks(finding, asOf))
    return checks.length === 0 ? [] : [{ trace: traces.get(finding)!, checks }]
  })
}

/** Checks as the engine takes them. */
export function recordedChecks(checks: readonly KeptCheck[]): RecordedCheck[] {
  return checks.map(({ check, outcome, on }) => ({ check, outcome, on: dayNumber(on) }))
}
