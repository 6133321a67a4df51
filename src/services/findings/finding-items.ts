import type { FindingDetail, FindingEventView, FindingItem } from '../../contract/findings.js'
import type { FindingEventRow, FindingRow, KeptCheck, NamedAnode } from '../../db/repositories/findings.js'
import type { Anomaly } from '../../engine/diagnosis/anomaly.js'
import type { Diagnosis } from '../../engine/diagnosis/diagnosis.js'
import { calendarDay } from '../dates/day-numbers.js'
import { findCheck } from './checks.js'
import { evidenceView, questionsView } from './said-of-findings.js'

/** What an item is made of: a row that is kept, or what was worked out for another day. */
export type TellableFinding = Pick<
  FindingRow,
  | 'id'
  | 'scope'
  | 'boatId'
  | 'direction'
  | 'state'
  | 'sinceOn'
  | 'surprise'
  | 'detail'
  | 'openedOn'
  | 'asOf'
  | 'notSeenSince'
  | 'confirmedCause'
  | 'reopened'
  | 'version'
>

/** Names of what an actor may see. */
export interface VisibleNames {
  readonly anodes: ReadonlyMap<string, NamedAnode>
  /** By id. */
  readonly boats: ReadonlyMap<string, string>
  /** Whether there may be others beside them. */
  readonly isPartial: boolean
}

/** A finding as the actor may see it; undefined where none of its boats is theirs. */
export function findingItem(finding: TellableFinding, names: VisibleNames): FindingItem | undefined {
  const { scope, detail, boatId } = finding
  const { anomaly, nextCheck, questions, safety } = detail.diagnosis
  const anodes = anomaly.anodes.flatMap((id) => names.anodes.get(id) ?? [])
  const boat = boatId === null ? null : (names.boats.get(boatId) ?? null)
  const isOfBoat = scope === 'anode' || scope === 'boat'
  if (isOfBoat ? boat === null : names.isPartial && anodes.length === 0) return undefined
  const [anode] = scope === 'anode' ? anodes : []
  // Of what a berth's boats share, an owner learns that it is so, not what the others' boats are like.
  const isOfOthersToo = names.isPartial && !isOfBoat
  return {
    id: finding.id,
    scope,
    boat,
    anode: anode?.anode ?? null,
    position: anode?.position ?? null,
    berth: detail.berth,
    pontoon: detail.pontoon,
    anodes: anodes.map((each) => ({ boat: each.boat, anode: each.anode, position: each.position })),
    direction: finding.direction,
    noticedBy: anomaly.noticedBy,
    since: finding.sinceOn,
    onset: anomaly.onset && datesOf(anomaly.onset),
    surprise: finding.surprise,
    adjustedP: anomaly.adjustedP,
    logRatio: anomaly.logRatio,
    shares: { ...anomaly.shares },
    causes: causesOf(detail.diagnosis, isOfOthersToo),
    nextCheck: nextCheckOf(nextCheck),
    ...(isOfOthersToo ? { questions: [], asked: [] } : questionsView(questions)),
    safety: [...safety],
    state: finding.state,
    confirmedCause: finding.confirmedCause,
    notSeenSince: finding.notSeenSince,
    openedOn: finding.openedOn,
    reopened: finding.reopened,
    asOf: finding.asOf,
    version: finding.version,
  }
}

/** What a list needs of a finding: a tenth of its size. */
export function withoutEvidence(item: FindingItem): FindingItem {
  return {
    ...item,
    causes: item.causes.map((cause) => ({ ...cause, evidence: [] })),
    nextCheck: item.nextCheck && { ...item.nextCheck, how: [], outcomes: [] },
  }
}

function datesOf({ p10, p50, p90 }: NonNullable<Anomaly['onset']>): FindingItem['onset'] {
  return { p10: calendarDay(p10), p50: calendarDay(p50), p90: calendarDay(p90) }
}

function causesOf({ causes }: Diagnosis, isOfOthersToo: boolean): FindingItem['causes'] {
  return causes.map(({ cause, probability, evidence }) => ({
    cause,
    probability,
    evidence: isOfOthersToo ? [] : evidence.map(evidenceView),
  }))
}

function nextCheckOf(nextCheck: Diagnosis['nextCheck']): FindingItem['nextCheck'] {
  if (nextCheck === null) return null
  const { how, outcomes, cautions, ...rest } = nextCheck
  return {
    ...rest,
    how: [...how],
    outcomes: outcomes.map(({ would, ...outcome }) => ({ ...outcome, would: [...would] })),
    cautions: [...cautions],
  }
}

/** A finding with its life. Who took a step is the yard's business: an owner is not told. */
export function findingDetail(
  item: FindingItem,
  finding: FindingRow,
  steps: readonly FindingEventRow[],
  names: VisibleNames,
): FindingDetail {
  const events = steps.map((step): FindingEventView => {
    const { kind, from, to, note, resolution } = step
    const by = names.isPartial ? null : step.actor
    const at = new Date(step.at).toISOString()
    return { at, by, kind, from, to, note, check: step.check && checkView(step.check), resolution }
  })
  const checks = [...finding.detail.checks].sort((a, b) => (a.on < b.on ? -1 : 1)).map(checkView)
  const resolution =
    finding.state === 'resolved' ? (steps.findLast((step) => step.resolution)?.resolution ?? null) : null
  return { ...item, checks, resolution, events }
}

function checkView({ check, outcome, on, note, confirms }: KeptCheck): FindingDetail['checks'][number] {
  const known = findCheck(check)
  const text = known?.outcomes.find((each) => each.outcome === outcome)?.text ?? outcome
  return { check, title: known?.title ?? check, outcome, text, on, note, confirmedCause: confirms }
}
