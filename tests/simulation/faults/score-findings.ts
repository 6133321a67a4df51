import { CAUSES, type Cause } from '../../../src/engine/diagnosis/causes.js'
import type { Diagnosis } from '../../../src/engine/diagnosis/diagnosis.js'
import type { AbnormalFleet } from './abnormal-fleet.js'
import type { FaultTruth } from './fault.js'

/**
 * A finding is about a fault if it names what the fault acted on, in its time, and says nothing against it:
 *
 * - place: an anode's or a boat's finding is on a boat of the fault, its anodes (where it names any) among those in place while the
 *   fault acted; a berth's or a pontoon's finding has at least half of its boats among the fault's, or names its berth or pontoon;
 * - time: the change began, by the finding's 10 to 90 % interval, not after the fault's end, and not more than a year before its begin
 *   (yearly looks tell no more); a finding without an onset is about any time;
 * - direction: the wear of the fault's anodes or of their companions truly went that way, or the finding is of a reading.
 *
 * A finding that is about no fault is a false alarm, unless it says "undersized" of an anode that was truly gone within about a year.
 */
export interface ScoredFinding {
  readonly diagnosis: Diagnosis
  readonly fault: FaultTruth | null
  readonly judged: 'about a fault' | 'too small by nature' | 'false alarm'
  /** The mass that it is made of was typed wrong. */
  readonly isMistyped: boolean
}

export interface ScoredFault {
  readonly fault: FaultTruth
  readonly findings: readonly Diagnosis[]
  /** The one that a person would take for it: of its scope, with the largest surprise. */
  readonly main: Diagnosis | null
}

export interface FleetScore {
  readonly findings: readonly ScoredFinding[]
  readonly faults: readonly ScoredFault[]
}

const ONSET_SLACK_DAYS = 365

export function scoreFindings(fleet: AbnormalFleet, diagnoses: readonly Diagnosis[]): FleetScore {
  const boatOf = (anode: string): string => (JSON.parse(anode) as [string, string])[0]
  const findings = diagnoses.map((diagnosis): ScoredFinding => {
    const fault = fleet.faults.find((each) => isAbout(diagnosis, each, boatOf)) ?? null
    const { anodes } = diagnosis.anomaly
    const isTooSmall = diagnosis.causes[0]?.cause === 'undersized' && anodes.some((key) => fleet.shortLived.has(key))
    return {
      diagnosis,
      fault,
      judged: fault !== null ? 'about a fault' : isTooSmall ? 'too small by nature' : 'false alarm',
      isMistyped: anodes.some((key) => fleet.mistyped.has(key)),
    }
  })
  const faults = fleet.faults.map((fault): ScoredFault => {
    const own = findings.filter((each) => each.fault === fault).map(({ diagnosis }) => diagnosis)
    return { fault, findings: own, main: mainOf(fault, own) }
  })
  return { findings, faults }
}

function isAbout({ anomaly }: Diagnosis, fault: FaultTruth, boatOf: (anode: string) => string): boolean {
  const { onset, direction } = anomaly
  if (direction !== 'other' && !fault.directions.includes(direction)) return false
  if (onset !== null && (onset.p10 > fault.to || onset.p90 < fault.from - ONSET_SLACK_DAYS)) return false
  if (anomaly.scope === 'berth' || anomaly.scope === 'pontoon') {
    const boats = [...new Set(anomaly.anodes.map(boatOf))]
    const among = boats.filter((boat) => fault.boats.includes(boat)).length
    const isNamed =
      (anomaly.berth !== null && fault.berths.includes(anomaly.berth)) ||
      (fault.pontoon !== null && anomaly.pontoon === fault.pontoon && anomaly.berth === null)
    return isNamed || (boats.length > 0 && among >= boats.length / 2)
  }
  if (anomaly.anodes.length === 0) return anomaly.boat !== null && fault.boats.includes(anomaly.boat)
  return anomaly.anodes.some((key) => fault.companions.includes(key) || fault.anodes.includes(key))
}

function mainOf(fault: FaultTruth, findings: readonly Diagnosis[]): Diagnosis | null {
  const weight = ({ anomaly }: Diagnosis) =>
    (fault.scopes.includes(anomaly.scope) ? 100 : 0) + Math.abs(anomaly.surprise)
  return findings.reduce<Diagnosis | null>(
    (main, each) => (main === null || weight(each) > weight(main) ? each : main),
    null,
  )
}

export function probabilityOf({ causes }: Diagnosis, wanted: Cause): number {
  return causes.find(({ cause }) => cause === wanted)?.probability ?? 0
}

export function topCause({ causes }: Diagnosis): Cause {
  return causes[0]?.cause ?? CAUSES[0]
}

/** What came of the faults of one cause, or of all. */
export interface CauseLine {
  readonly cause: Cause | 'all'
  readonly injected: number
  readonly visible: number
  /** Visible ones with a finding, and invisible ones. */
  readonly found: number
  readonly foundInvisible: number
  /** Of the visible ones found. */
  readonly firstRight: number
  readonly meanProbability: number
  readonly scopeRight: number
  readonly single: number
}

export function causeLines(faults: readonly ScoredFault[]): CauseLine[] {
  const lines = CAUSES.map((cause) =>
    lineOf(
      cause,
      faults.filter(({ fault }) => fault.cause === cause),
    ),
  )
  return [...lines, lineOf('all', faults)]
}

function lineOf(cause: CauseLine['cause'], faults: readonly ScoredFault[]): CauseLine {
  const visible = faults.filter(({ fault }) => fault.isVisible)
  const found = visible.filter(({ main }) => main !== null)
  const probabilities = found.map(({ fault, main }) => probabilityOf(main!, fault.cause))
  return {
    cause,
    injected: faults.length,
    visible: visible.length,
    found: found.length,
    foundInvisible: faults.filter(({ fault, main }) => !fault.isVisible && main !== null).length,
    firstRight: found.filter(({ fault, main }) => topCause(main!) === fault.cause).length,
    meanProbability: probabilities.reduce((sum, each) => sum + each, 0) / probabilities.length,
    scopeRight: found.filter(({ fault, main }) => fault.scopes.includes(main!.anomaly.scope)).length,
    single: found.filter(({ findings }) => findings.length === 1).length,
  }
}

/** Of the dated findings of faults: how far off the middle is, and how often the interval holds the true day. */
export function onsetErrors(faults: readonly ScoredFault[]): { days: number[]; inside: number } {
  const dated = faults.flatMap(({ fault, main }) => {
    const onset = main?.anomaly.onset ?? null
    return onset === null ? [] : [{ onset, from: fault.from }]
  })
  return {
    days: dated.map(({ onset, from }) => onset.p50 - from),
    inside: dated.filter(({ onset, from }) => onset.p10 <= from && from <= onset.p90).length,
  }
}

export interface ReliabilityLine {
  readonly from: number
  readonly to: number
  readonly findings: number
  readonly meanProbability: number
  readonly right: number
}

const BIN_EDGES = [0, 0.35, 0.5, 0.65, 0.8, 0.9, 1.0001] as const

/** What the top cause's probability says beside how often it is right, over the findings about a fault. */
export function reliability(findings: readonly ScoredFinding[]): ReliabilityLine[] {
  const about = findings.flatMap(({ diagnosis, fault }) => (fault === null ? [] : [{ diagnosis, fault }]))
  return BIN_EDGES.slice(0, -1).map((from, index) => {
    const to = BIN_EDGES[index + 1]!
    const own = about.filter(({ diagnosis }) => {
      const probability = diagnosis.causes[0]!.probability
      return probability >= from && probability < to
    })
    return {
      from,
      to: Math.min(1, to),
      findings: own.length,
      meanProbability: own.reduce((sum, { diagnosis }) => sum + diagnosis.causes[0]!.probability, 0) / own.length,
      right: own.filter(({ diagnosis, fault }) => topCause(diagnosis) === fault.cause).length,
    }
  })
}
