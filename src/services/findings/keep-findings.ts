import { isDeepStrictEqual } from 'node:util'
import type { Db } from '../../db/client.js'
import type { Acting } from '../../db/in-organisation.js'
import { type Correction, correctionsSince } from '../../db/repositories/corrections.js'
import {
  addFindingStep,
  type FindingDetailKept,
  type FindingRow,
  type FindingStep,
  findingsOf,
  insertFinding,
  updateFinding,
} from '../../db/repositories/findings.js'
import { type FleetRecords, REFIT_ACTOR } from '../../db/repositories/fleet-records.js'
import type { Diagnosis } from '../../engine/diagnosis/diagnosis.js'
import { calendarDay, dayNumber } from '../dates/day-numbers.js'
import { tellFindingStep } from '../webhooks/tell-findings.js'
import { newestEvidenceIn } from './newest-evidence.js'
import { type Change, isSettled, reconcile } from './reconcile.js'
import { likenessBy } from './same-fault.js'
import { placesOfAnodes, type SeenFault, seenFaults, tracesUnderTodaysNames } from './seen-faults.js'

/** The fleet that diagnoses were made of, and when. */
interface DiagnosedFit {
  readonly organisationId: string
  readonly records: FleetRecords
  readonly revision: number
  /** Day of the fit, 'YYYY-MM-DD'. */
  readonly today: string
}

/**
 * Holds the diagnoses of a fit against the findings that are kept, in the transaction that keeps the fit, which no other fit of the
 * organisation is in at the same time. Doing it again changes nothing.
 */
export async function keepFindings(tx: Db, fit: DiagnosedFit, diagnoses: readonly Diagnosis[]): Promise<void> {
  const { organisationId, records, today } = fit
  const kept = await findingsOf(tx, organisationId)
  const traces = tracesUnderTodaysNames(records, kept)
  const isCorrected = await correctedFindings(tx, organisationId, kept)
  const changes = reconcile({
    kept,
    seen: seenFaults(records, diagnoses, today),
    traceOf: (finding) => traces.get(finding)!,
    likeness: likenessBy(placesOfAnodes(records)),
    newestEvidence: newestEvidenceIn(records),
    isCorrected,
  })
  for (const change of changes) await write(tx, fit, change)
}

async function correctedFindings(
  tx: Db,
  organisationId: string,
  kept: readonly FindingRow[],
): Promise<(finding: FindingRow) => boolean> {
  const unsettled = kept.filter((finding) => !isSettled(finding))
  if (unsettled.length === 0) return () => false
  const anodeIds = [...new Set(unsettled.flatMap(anodesOf))]
  const boatIds = [...new Set(unsettled.flatMap(({ boatId }) => boatId ?? []))]
  const since = Math.min(...unsettled.map(({ seenRevision }) => seenRevision))
  const corrections = await correctionsSince(tx, organisationId, since, { anodeIds, boatIds })
  return (finding) => corrections.some((correction) => concerns(correction, finding))
}

/** What was added since and happened since is news, no correction. */
function concerns({ revision, boatId, anodeId, addedOn }: Correction, finding: FindingRow): boolean {
  if (revision <= finding.seenRevision || (addedOn !== null && addedOn >= finding.asOf)) return false
  return anodeId === null ? boatId !== null && boatId === finding.boatId : anodesOf(finding).includes(anodeId)
}

const anodesOf = ({ detail }: FindingRow) => detail.diagnosis.anomaly.anodes

async function write(tx: Db, fit: DiagnosedFit, change: Change): Promise<void> {
  const { organisationId } = fit
  const acting = { organisationId, actor: REFIT_ACTOR }
  if (change.kind === 'opened') {
    const id = await insertFinding(tx, organisationId, {
      ...figuresOf(fit, change.seen, NOTHING_YET),
      openedOn: fit.today,
    })
    await takeStep(tx, acting, id, { kind: 'opened', from: null, to: 'open' })
    return
  }
  const { finding, step } = change
  if (change.kind === 'seen' && wasCheckedMeanwhile(fit, finding)) return
  const values = change.kind === 'seen' ? figuresOf(fit, change.seen, finding.detail) : { notSeenSince: fit.today }
  await updateFinding(tx, organisationId, finding.id, changed(finding, { ...values, ...stateAfter(finding, step) }))
  if (step !== null) await takeStep(tx, acting, finding.id, step)
}

async function takeStep(tx: Db, acting: Acting, findingId: string, step: FindingStep): Promise<void> {
  await addFindingStep(tx, acting, findingId, step)
  await tellFindingStep(tx, acting.organisationId, findingId, step)
}

/** A check that was made while the fit ran is not in its causes: the next fit has it, and until then what the check said counts. */
function wasCheckedMeanwhile({ records }: DiagnosedFit, finding: FindingRow): boolean {
  const asked = records.findings.find(({ id }) => id === finding.id)
  return asked !== undefined && asked.detail.checks.length !== finding.detail.checks.length
}

function stateAfter(finding: FindingRow, step: FindingStep | null): Partial<FindingRow> {
  if (step === null || step.to === step.from) return {}
  if (step.kind !== 'reopened') return { state: step.to }
  const reopened = finding.reopened + (step.from === 'resolved' ? 1 : 0)
  return { state: step.to, reopened, resolvedOn: null, confirmedCause: null }
}

const NOTHING_YET = { checks: [], episodes: [] }

/** What a fit says of a finding, as columns. */
function figuresOf(
  { today, revision }: DiagnosedFit,
  seen: SeenFault,
  { checks, episodes }: Pick<FindingDetailKept, 'checks' | 'episodes'>,
) {
  const { boatId, anodeId, berthId, pontoonId, berth, pontoon } = seen
  const diagnosis = begunAfter(seen.diagnosis, episodes.at(-1)?.until)
  const { scope, direction, surprise, onset } = diagnosis.anomaly
  // As the database gives it back: what JSON cannot say is gone.
  const detail: FindingDetailKept = JSON.parse(JSON.stringify({ diagnosis, berth, pontoon, checks, episodes }))
  return {
    scope,
    boatId,
    anodeId,
    berthId,
    pontoonId,
    direction,
    sinceOn: onset === null ? seen.sinceOn : calendarDay(onset.p50),
    surprise,
    detail,
    asOf: today,
    seenRevision: revision,
    notSeenSince: null,
  }
}

/** What comes back began after it was mended, though the last ordinary wear lies before that. */
function begunAfter(diagnosis: Diagnosis, mendedOn: string | undefined): Diagnosis {
  if (mendedOn === undefined) return diagnosis
  const mended = dayNumber(mendedOn)
  const { onset } = diagnosis.anomaly
  const after = (day: number | undefined) => Math.max(day ?? mended, mended)
  const later = { p10: after(onset?.p10), p50: after(onset?.p50), p90: after(onset?.p90) }
  return { ...diagnosis, anomaly: { ...diagnosis.anomaly, onset: later } }
}

/** Of the values, those that the row does not have already. */
function changed(row: FindingRow, values: Partial<FindingRow>): Partial<FindingRow> {
  const entries = Object.entries(values).filter(
    ([column, value]) => !isDeepStrictEqual(row[column as keyof FindingRow], value),
  )
  return Object.fromEntries(entries)
}
