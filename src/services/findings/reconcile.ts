import type { FindingRow, FindingStep } from '../../db/repositories/findings.js'
import type { Scope } from '../../engine/diagnosis/anomaly.js'
import { dayNumber } from '../dates/day-numbers.js'
import { type Likeness, pairFaults, type Trace } from './same-fault.js'
import type { SeenFault } from './seen-faults.js'

/** What a fit's diagnoses make of the findings that are kept. */
export type Change =
  | { readonly kind: 'opened'; readonly seen: SeenFault }
  | { readonly kind: 'seen'; readonly finding: FindingRow; readonly seen: SeenFault; readonly step: FindingStep | null }
  | { readonly kind: 'lost'; readonly finding: FindingRow; readonly step: FindingStep }

export interface Looked {
  readonly kept: readonly FindingRow[]
  readonly seen: readonly SeenFault[]
  readonly traceOf: (finding: FindingRow) => Trace
  readonly likeness: Likeness
  /** Day of the newest weighing, or reading, that may bear on an anomaly; `null` before the first. */
  readonly newestEvidence: (seen: SeenFault) => number | null
  /** Whether what was known when a finding was seen last has been changed since. */
  readonly isCorrected: (finding: FindingRow) => boolean
}

export const isSettled = ({ state }: Pick<FindingRow, 'state'>) => state === 'resolved' || state === 'closed'

const UNSETTLED_FIRST = 20
const RESOLVED_THEN = 10

/**
 * Holds what a fit has seen against what is kept. The same fault is the same finding: its figures are told anew. What is seen no
 * longer stays, with a note; where the records were corrected since, or it is part of something wider now, it is closed. What was
 * resolved and shows again in wear since then is open again.
 */
export function reconcile(looked: Looked): Change[] {
  const { kept, seen, traceOf, likeness } = looked
  const pairs = pairFaults(kept, seen, (finding, fault) => {
    const alike = likeness(traceOf(finding), fault.diagnosis.anomaly)
    return alike === 0 ? 0 : alike + preferenceOf(finding)
  })
  const found = new Set(pairs.values())
  return [
    ...seen.flatMap((fault): Change[] => {
      const finding = pairs.get(fault)
      return finding === undefined ? [{ kind: 'opened', seen: fault }] : seenAgain(looked, finding, fault)
    }),
    ...kept.filter((finding) => !found.has(finding) && !isSettled(finding)).flatMap((finding) => lost(looked, finding)),
  ]
}

function preferenceOf(finding: FindingRow): number {
  if (!isSettled(finding)) return UNSETTLED_FIRST
  return finding.state === 'resolved' ? RESOLVED_THEN : 0
}

function seenAgain(looked: Looked, finding: FindingRow, seen: SeenFault): Change[] {
  const { state: from } = finding
  if (from === 'resolved') {
    if (!recurs(looked, finding, seen)) return []
    const note = `It shows again in what was found after ${finding.resolvedOn}.`
    return [{ kind: 'seen', finding, seen, step: { kind: 'reopened', from, to: 'open', note } }]
  }
  if (from === 'closed') {
    const note = 'The records show it again.'
    return [{ kind: 'seen', finding, seen, step: { kind: 'reopened', from, to: 'open', note } }]
  }
  const step: FindingStep | null = finding.notSeenSince === null ? null : { kind: 'seen-again', from, to: from }
  return [{ kind: 'seen', finding, seen, step }]
}

/** Wear before the fault was mended is settled: what is seen with weighings after that is new. */
function recurs({ newestEvidence }: Looked, { resolvedOn }: FindingRow, seen: SeenFault): boolean {
  return (newestEvidence(seen) ?? -Infinity) > dayNumber(resolvedOn!)
}

function lost(looked: Looked, finding: FindingRow): Change[] {
  const { state: from } = finding
  const wider = looked.seen.find((fault) => isPartOf(looked.traceOf(finding), fault.diagnosis.anomaly))
  if (wider !== undefined) {
    const note = `It is part of a finding of ${extentOf(wider)} now.`
    return [{ kind: 'lost', finding, step: { kind: 'closed', from, to: 'closed', note } }]
  }
  if (looked.isCorrected(finding)) {
    const note = 'No longer supported: the records that it rested on have been changed.'
    return [{ kind: 'lost', finding, step: { kind: 'closed', from, to: 'closed', note } }]
  }
  return finding.notSeenSince === null
    ? [{ kind: 'lost', finding, step: { kind: 'no-longer-seen', from, to: from } }]
    : []
}

const WIDTHS: readonly Scope[] = ['anode', 'boat', 'berth', 'pontoon']

/** Whether most of its anodes share in something wider, in the same direction. */
function isPartOf(one: Trace, other: Trace): boolean {
  if (one.direction !== other.direction || WIDTHS.indexOf(one.scope) >= WIDTHS.indexOf(other.scope)) return false
  const common = one.anodes.filter((key) => other.anodes.includes(key)).length
  return one.anodes.length > 0 && 2 * common > one.anodes.length
}

function extentOf({ diagnosis: { anomaly }, berth, pontoon }: SeenFault): string {
  switch (anomaly.scope) {
    case 'anode':
      return 'one anode'
    case 'boat':
      return `the whole boat ${anomaly.boat}`
    case 'berth':
      return `berth ${berth}`
    case 'pontoon':
      return `pontoon ${pontoon}`
  }
}
