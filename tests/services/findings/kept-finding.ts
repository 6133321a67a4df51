import type { FindingRow } from '../../../src/db/repositories/findings.js'
import type { Anomaly } from '../../../src/engine/diagnosis/anomaly.js'
import type { Diagnosis } from '../../../src/engine/diagnosis/diagnosis.js'
import { calendarDay, dayNumber } from '../../../src/services/dates/day-numbers.js'

export const TODAY = '2031-06-15'
export const BEGAN = dayNumber('2031-02-01')

function anomaly(given: Partial<Anomaly>): Anomaly {
  return {
    scope: 'anode',
    boat: 'Wren',
    berth: 'B1',
    pontoon: 'B',
    anodes: ['w1'],
    direction: 'fast',
    noticedBy: 'interval',
    onset: { p10: BEGAN - 30, p50: BEGAN, p90: BEGAN + 30 },
    surprise: 4,
    adjustedP: 1e-4,
    logRatio: { mean: 1, sd: 0.2 },
    shares: { anode: 1, boat: 0, berth: 0, pontoon: 0 },
    ...given,
  }
}

/** Of the anode w1 of Wren, fast since 2031-02-01, unless said otherwise. */
export function diagnosisOf(given: Partial<Anomaly>): Diagnosis {
  return { anomaly: anomaly(given), causes: [], nextCheck: null, questions: [], safety: [] }
}

let made = 0
/** The same as it is kept. */
export function keptFinding(given: Partial<Anomaly> = {}, columns: Partial<FindingRow> = {}): FindingRow {
  const diagnosis = diagnosisOf(given)
  const { scope, boat, direction, surprise } = diagnosis.anomaly
  return {
    organisationId: 'yard',
    id: `finding ${++made}`,
    createdAt: TODAY,
    version: 2,
    scope,
    boatId: boat,
    anodeId: null,
    berthId: null,
    pontoonId: null,
    direction,
    surprise,
    state: 'open',
    sinceOn: calendarDay(BEGAN),
    detail: { diagnosis, berth: 'B1', pontoon: 'B', checks: [], episodes: [] },
    openedOn: TODAY,
    asOf: TODAY,
    seenRevision: 10,
    notSeenSince: null,
    confirmedCause: null,
    resolvedOn: null,
    reopened: 0,
    ...columns,
  }
}
