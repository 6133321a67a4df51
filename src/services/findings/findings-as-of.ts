import { createHash } from 'node:crypto'
import type { FindingRow } from '../../db/repositories/findings.js'
import type { TellableFinding } from './finding-items.js'
import { likenessBy, pairFaults, type Trace } from './same-fault.js'
import type { SeenFault } from './seen-faults.js'

/**
 * What was to be found on a past day, each as if it were just opened. A fault that is kept has its id; one that nobody has seen since
 * has one of its own, the same each time.
 */
export function findingsAsOf(
  organisationId: string,
  day: string,
  seen: readonly SeenFault[],
  kept: readonly FindingRow[],
): TellableFinding[] {
  const likeness = likenessBy((anode) => anode)
  const pairs = pairFaults(kept, seen, (finding, { diagnosis }) =>
    likeness(finding.detail.diagnosis.anomaly, diagnosis.anomaly),
  )
  return seen.map((fault): TellableFinding => {
    const { diagnosis, berth, pontoon, boatId, sinceOn } = fault
    const { scope, direction, surprise } = diagnosis.anomaly
    return {
      id: pairs.get(fault)?.id ?? idOf(organisationId, diagnosis.anomaly),
      scope,
      boatId,
      direction,
      surprise,
      sinceOn,
      detail: { diagnosis, berth, pontoon, checks: [], episodes: [] },
      state: 'open',
      openedOn: day,
      asOf: day,
      notSeenSince: null,
      confirmedCause: null,
      reopened: 0,
      version: 1,
    }
  })
}

/** An id made from what the fault is (RFC 9562, version 8). */
function idOf(organisationId: string, { scope, boat, berth, pontoon, direction, anodes, onset }: Trace): string {
  const what = JSON.stringify([organisationId, scope, boat, berth, pontoon, direction, anodes, onset])
  const hex = createHash('sha256').update(what).digest('hex')
  const variant = '89ab'[Number.parseInt(hex.charAt(16), 16) % 4]
  return [
    hex.slice(0, 8),
    hex.slice(8, 12),
    `8${hex.slice(13, 16)}`,
    `${variant}${hex.slice(17, 20)}`,
    hex.slice(20, 32),
  ].join('-')
}
