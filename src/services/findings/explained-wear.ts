import type { ConfirmableCause } from '../../contract/vocabulary.js'
import type { FindingRow } from '../../db/repositories/findings.js'
import type { ExplainedSpan, FleetHistory } from '../../engine/rates/fleet-history.js'
import { calendarDay, dayNumber } from '../dates/day-numbers.js'

/**
 * Causes under which wear says nothing of ordinary rates. The others are ordinary: a berth's environment is the berth's effect, an
 * alloy in its water is what the rates are by alloy and water, and a small anode wastes as it must.
 */
const FAULTS: readonly ConfirmableCause[] = [
  'stray-current-onboard',
  'stray-current-shore',
  'alloy-not-as-declared',
  'no-electrical-contact',
  'passivated',
  'mixed-alloys',
  'mechanical-loss',
  'other',
]

/**
 * A history with the wear in it that findings explain: confirmed faults until they were mended, and whatever was looked into and
 * settled.
 *
 * @param asOf day number: what was confirmed or mended later is not known yet
 */
export function withExplainedWear(history: FleetHistory, findings: readonly FindingRow[], asOf: number): FleetHistory {
  const spans = spansByAnode(findings, asOf)
  if (spans.size === 0) return history
  return {
    ...history,
    boats: history.boats.map((boat) => ({
      ...boat,
      anodes: boat.anodes.map((anode) => {
        const explained = spans.get(anode.key)
        return explained === undefined ? anode : { ...anode, explained }
      }),
    })),
  }
}

function spansByAnode(findings: readonly FindingRow[], asOf: number): ReadonlyMap<string, ExplainedSpan[]> {
  const spans = new Map<string, ExplainedSpan[]>()
  for (const finding of findings) {
    const span = spanOf(finding, asOf)
    if (span === null) continue
    for (const key of finding.detail.diagnosis.anomaly.anodes) spans.set(key, [...(spans.get(key) ?? []), span])
  }
  return spans
}

function spanOf(finding: FindingRow, asOf: number): ExplainedSpan | null {
  const { onset } = finding.detail.diagnosis.anomaly
  const from = onset?.p50 ?? -Infinity
  if (finding.state === 'resolved' && dayNumber(finding.resolvedOn!) <= asOf) {
    const by = isFault(finding.confirmedCause) ? 'fault' : 'ordinary'
    return { from, to: dayNumber(finding.resolvedOn!), by }
  }
  if (finding.state === 'closed' || !isFault(confirmedByCheck(finding, asOf))) return null
  return { from, to: null, by: 'fault' }
}

/** The cause that a check has settled, of those made by a day. */
function confirmedByCheck({ detail }: FindingRow, asOf: number): ConfirmableCause | null {
  const made = detail.checks.filter(({ on }) => on <= calendarDay(asOf))
  return made.findLast(({ confirms }) => confirms !== null)?.confirms ?? null
}

function isFault(cause: ConfirmableCause | null): boolean {
  return cause !== null && FAULTS.includes(cause)
}
