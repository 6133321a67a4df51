import type { ConfirmableCause } from '../../contract/vocabulary.js'
import type { FindingRow, KeptCheck } from '../../db/repositories/findings.js'
import type { ExplainedSpan, FleetHistory } from '../../engine/rates/fleet-history.js'
import { dayNumber } from '../dates/day-numbers.js'

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
  for (const { anodes, span } of findings.flatMap((finding) => explanationsOf(finding, asOf)))
    for (const key of anodes) spans.set(key, [...(spans.get(key) ?? []), span])
  return spans
}

interface Explanation {
  readonly anodes: readonly string[]
  readonly span: ExplainedSpan
}

function explanationsOf(finding: FindingRow, asOf: number): Explanation[] {
  const past = finding.detail.episodes.flatMap(({ anodes, from, until, cause }): Explanation[] => {
    const to = dayNumber(until)
    if (to > asOf) return []
    const by = isFault(cause) ? 'fault' : 'ordinary'
    return [{ anodes, span: { from: from === null ? -Infinity : dayNumber(from), to, by } }]
  })
  const isOver = finding.state === 'closed' || (finding.state === 'resolved' && dayNumber(finding.resolvedOn!) <= asOf)
  if (isOver || !isFault(confirmedByCheck(finding, asOf))) return past
  const { anodes, onset } = finding.detail.diagnosis.anomaly
  return [...past, { anodes, span: { from: onset?.p50 ?? -Infinity, to: null, by: 'fault' } }]
}

/** The cause that a check has settled, of those that still hold on a day. */
function confirmedByCheck(finding: FindingRow, asOf: number): ConfirmableCause | null {
  return validChecks(finding, asOf).findLast(({ confirms }) => confirms !== null)?.confirms ?? null
}

/** Checks that were made by a day; what was found before the fault was mended says nothing of one that came back. */
export function validChecks({ detail }: Pick<FindingRow, 'detail'>, asOf: number): KeptCheck[] {
  const mended = detail.episodes.map(({ until }) => dayNumber(until)).filter((until) => until <= asOf)
  const last = Math.max(-Infinity, ...mended)
  return detail.checks.filter(({ on }) => dayNumber(on) <= asOf && dayNumber(on) > last)
}

function isFault(cause: ConfirmableCause | null): boolean {
  return cause !== null && FAULTS.includes(cause)
}
