import { and, asc, eq, inArray } from 'drizzle-orm'
import type { ConfirmableCause, FindingEventKind, FindingState } from '../../contract/vocabulary.js'
import type { Diagnosis, RecordedCheck } from '../../engine/diagnosis/diagnosis.js'
import type { Db } from '../client.js'
import { anodes, boats, findingEvents, findings, positions } from '../schema/index.js'
import { type Scope, visibleBoats } from './visibility.js'

/** A check that somebody made. */
export interface KeptCheck extends Omit<RecordedCheck, 'on'> {
  /** Day, 'YYYY-MM-DD'. */
  readonly on: string
  readonly note: string | null
  readonly confirms: ConfirmableCause | null
}

export interface KeptResolution {
  readonly on: string
  readonly text: string
  readonly cause: ConfirmableCause
}

/** A time in which it was so, and which is over. */
export interface Episode {
  /** Ids of the anodes that it showed in. */
  readonly anodes: readonly string[]
  /** Day of its begin; `null`: from the first day on. */
  readonly from: string | null
  /** Day on which it was mended. */
  readonly until: string
  readonly cause: ConfirmableCause
}

/** What is kept of a finding beside its columns. */
export interface FindingDetailKept {
  /** As of the last fit that saw it, or the last check since; its anodes are ids. */
  readonly diagnosis: Diagnosis
  /** Where its boat lies or lay last; of a pontoon the berth with most of its anodes. */
  readonly berth: string | null
  readonly pontoon: string | null
  readonly checks: readonly KeptCheck[]
  /** In order of time: the one it was resolved with last, and those before it came back. */
  readonly episodes: readonly Episode[]
}

export type FindingRow = Omit<typeof findings.$inferSelect, 'detail'> & { readonly detail: FindingDetailKept }

type FindingValues = Omit<
  typeof findings.$inferInsert,
  'organisationId' | 'id' | 'createdAt' | 'version' | 'detail'
> & {
  readonly detail: FindingDetailKept
}

/** A step in the life of a finding. */
export interface FindingStep {
  readonly kind: FindingEventKind
  readonly from: FindingState | null
  readonly to: FindingState
  readonly note?: string | null
  readonly check?: KeptCheck
  readonly resolution?: KeptResolution
}

export interface FindingEventRow extends Required<Pick<FindingStep, 'kind' | 'from' | 'to'>> {
  readonly at: string
  readonly actor: string
  readonly note: string | null
  readonly check: KeptCheck | null
  readonly resolution: KeptResolution | null
}

/**
 * Findings of an organisation, the oldest first.
 *
 * @param boatId those of one boat or an anode of it alone; all unless given
 */
export async function findingsOf(db: Db, organisationId: string, boatId?: string): Promise<FindingRow[]> {
  const rows = await db
    .select()
    .from(findings)
    .where(
      and(eq(findings.organisationId, organisationId), boatId === undefined ? undefined : eq(findings.boatId, boatId)),
    )
    .orderBy(asc(findings.openedOn), asc(findings.id))
  return rows as FindingRow[]
}

export async function findFinding(db: Db, organisationId: string, id: string): Promise<FindingRow | undefined> {
  const [row] = await db.select().from(findings).where(thisFinding(organisationId, id))
  return row as FindingRow | undefined
}

/** The same, held until the transaction ends: of two people who take a step at once, the second sees what the first did. */
export async function lockFinding(tx: Db, organisationId: string, id: string): Promise<FindingRow | undefined> {
  const [row] = await tx.select().from(findings).where(thisFinding(organisationId, id)).for('update')
  return row as FindingRow | undefined
}

export async function insertFinding(tx: Db, organisationId: string, values: FindingValues): Promise<string> {
  const [row] = await tx
    .insert(findings)
    .values({ ...values, organisationId })
    .returning({ id: findings.id })
  return row!.id
}

export async function updateFinding(
  tx: Db,
  organisationId: string,
  id: string,
  values: Partial<FindingValues>,
): Promise<void> {
  if (Object.keys(values).length === 0) return
  await tx.update(findings).set(values).where(thisFinding(organisationId, id))
}

/** Adds a step to the history of a finding; a trigger raises the finding's version. */
export async function addFindingStep(
  tx: Db,
  { organisationId, actor }: { readonly organisationId: string; readonly actor: string },
  findingId: string,
  { kind, from, to, note, check, resolution }: FindingStep,
): Promise<void> {
  const data = check || resolution ? { check: check ?? null, resolution: resolution ?? null } : null
  await tx
    .insert(findingEvents)
    .values({ organisationId, findingId, actor, kind, fromState: from, toState: to, note: note ?? null, data })
}

/** The history of a finding, oldest first. */
export async function stepsOfFinding(db: Db, organisationId: string, findingId: string): Promise<FindingEventRow[]> {
  const rows = await db
    .select()
    .from(findingEvents)
    .where(and(eq(findingEvents.organisationId, organisationId), eq(findingEvents.findingId, findingId)))
    .orderBy(asc(findingEvents.number))
  return rows.map(({ at, actor, kind, fromState, toState, note, data }) => {
    const { check, resolution } = (data ?? {}) as Partial<Pick<FindingEventRow, 'check' | 'resolution'>>
    return { at, actor, kind, from: fromState, to: toState, note, check: check ?? null, resolution: resolution ?? null }
  })
}

/** An anode as a finding names it. */
export interface NamedAnode {
  readonly id: string
  readonly boatId: string
  readonly boat: string
  readonly anode: string
  readonly position: string
}

/** The anodes of these ids that the scope may see. */
export async function namedAnodes(db: Db, scope: Scope, ids: readonly string[]): Promise<NamedAnode[]> {
  if (ids.length === 0) return []
  return db
    .select({ id: anodes.id, boatId: boats.id, boat: boats.name, anode: anodes.name, position: positions.label })
    .from(anodes)
    .innerJoin(boats, and(eq(boats.organisationId, anodes.organisationId), eq(boats.id, anodes.boatId)))
    .innerJoin(positions, and(eq(positions.organisationId, anodes.organisationId), eq(positions.id, anodes.positionId)))
    .where(and(visibleBoats(scope), inArray(anodes.id, [...ids])))
    .orderBy(boats.name, anodes.fittedOn, anodes.name)
}

/** The names of the boats that the scope may see, by id. */
export async function namesOfBoats(db: Db, scope: Scope): Promise<ReadonlyMap<string, string>> {
  const rows = await db.select({ id: boats.id, name: boats.name }).from(boats).where(visibleBoats(scope))
  return new Map(rows.map(({ id, name }) => [id, name]))
}

function thisFinding(organisationId: string, id: string) {
  return and(eq(findings.organisationId, organisationId), eq(findings.id, id))
}
