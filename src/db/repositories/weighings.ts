import { and, asc, eq, gte, inArray, isNull, lte, or, type SQL, sql } from 'drizzle-orm'
import type { Page } from '../../contract/paging.js'
import type { Condition } from '../../contract/vocabulary.js'
import type { WeighingQuery } from '../../contract/weighings.js'
import type { Db } from '../client.js'
import { anodes, auditEntries, boats, weighings } from '../schema/index.js'
import { dateKey, inEveryRow, instantKey, keysetOf, numberKey, textKey } from './paging.js'
import { meantBy, utcInstant } from './references.js'
import { type Change, changesNothing, lockVersion } from './versions.js'
import { type Scope, visibleBoats } from './visibility.js'

export type WeighingValues = Omit<
  typeof weighings.$inferInsert,
  'organisationId' | 'id' | 'createdAt' | 'version' | 'conditions'
> & { conditions?: Condition[] }

const SORT_KEYS = {
  weighedOn: inEveryRow(dateKey(weighings.weighedOn)),
  boat: inEveryRow(textKey(boats.name)),
  anode: inEveryRow(textKey(anodes.name)),
  massG: numberKey(weighings.massG),
  createdAt: inEveryRow(instantKey(weighings.createdAt)),
}

const COLUMNS = {
  id: weighings.id,
  boatId: anodes.boatId,
  boat: boats.name,
  anode: anodes.name,
  anodeId: weighings.anodeId,
  haulOutId: weighings.haulOutId,
  weighedOn: weighings.weighedOn,
  method: weighings.method,
  massG: weighings.massG,
  resolutionG: weighings.resolutionG,
  cleaned: weighings.cleaned,
  submergedMassG: weighings.submergedMassG,
  submergedIn: weighings.submergedIn,
  wastedPercent: weighings.wastedPercent,
  lengthMm: weighings.lengthMm,
  widthMm: weighings.widthMm,
  heightMm: weighings.heightMm,
  // The schemas at the border let no other codes in.
  conditions: sql<Condition[]>`${weighings.conditions}`,
  note: weighings.note,
  createdAt: weighings.createdAt,
  version: weighings.version,
  /** What the anode was when new: the net mass and the consumed fraction are worked out from it. */
  whenFitted: {
    fittedOn: anodes.fittedOn,
    removedOn: anodes.removedOn,
    grossMassG: anodes.grossMassG,
    coreMassG: anodes.coreMassG,
    lengthMm: anodes.lengthMm,
    widthMm: anodes.widthMm,
    heightMm: anodes.heightMm,
  },
}

/** A weighing with what its boat and its anode are called, and what the anode was when new. */
export type WeighingRecord = Omit<Awaited<ReturnType<typeof records>>[number], 'cursorValue'>

export async function pageOfWeighings(db: Db, scope: Scope, query: WeighingQuery): Promise<Page<WeighingRecord>> {
  const keyset = keysetOf('weighings', query, SORT_KEYS, weighings.id)
  const rows = await records(db, keyset.cursorValue)
    .where(and(visibleBoats(scope), ...filtersOf(query), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toRecord)
}

export async function findWeighing(db: Db, scope: Scope, id: string): Promise<WeighingRecord | undefined> {
  const [row] = await records(db, sql`null`).where(and(visibleBoats(scope), eq(weighings.id, id)))
  return row && toRecord(row)
}

/** All weighings of these anodes, each anode's in the order of their days. */
export async function weighingsOfAnodes(
  db: Db,
  organisationId: string,
  anodeIds: readonly string[],
): Promise<WeighingRecord[]> {
  if (anodeIds.length === 0) return []
  const rows = await records(db, sql`null`)
    .where(and(eq(weighings.organisationId, organisationId), inArray(weighings.anodeId, [...anodeIds])))
    .orderBy(asc(weighings.weighedOn))
  return rows.map(toRecord)
}

/** All weighings of a boat's anodes, each anode's in the order of their days. */
export async function weighingsOfBoat(db: Db, organisationId: string, boatId: string): Promise<WeighingRecord[]> {
  const rows = await records(db, sql`null`)
    .where(and(eq(weighings.organisationId, organisationId), eq(anodes.boatId, boatId)))
    .orderBy(asc(weighings.weighedOn))
  return rows.map(toRecord)
}

/** The weighings of one haul-out and those logged by themselves on its day, by the names of their anodes. */
export async function weighingsOfHaulOut(
  db: Db,
  organisationId: string,
  haulOut: { id: string; boatId: string; hauledOn: string },
): Promise<WeighingRecord[]> {
  const thatDay = and(
    isNull(weighings.haulOutId),
    eq(anodes.boatId, haulOut.boatId),
    eq(weighings.weighedOn, haulOut.hauledOn),
  )
  const rows = await records(db, sql`null`)
    .where(and(eq(weighings.organisationId, organisationId), or(eq(weighings.haulOutId, haulOut.id), thatDay)))
    .orderBy(sql`${anodes.name} collate "C"`)
  return rows.map(toRecord)
}

export async function insertWeighing(tx: Db, organisationId: string, values: WeighingValues): Promise<string> {
  const [row] = await tx
    .insert(weighings)
    .values({ ...values, organisationId })
    .returning({ id: weighings.id })
  return row!.id
}

/** Several at once: the audit trail and what is held against an anode's life are asked once for all of them. */
export async function insertWeighings(
  tx: Db,
  organisationId: string,
  values: readonly WeighingValues[],
): Promise<void> {
  if (values.length === 0) return
  await tx.insert(weighings).values(values.map((each) => ({ ...each, organisationId })))
}

/** Changes a weighing; the database asks for a reason, in `Acting.reason`, where what was measured changes. */
export async function updateWeighing(
  tx: Db,
  organisationId: string,
  id: string,
  values: Change<WeighingValues>,
): Promise<void> {
  if (changesNothing(values)) return
  await tx.update(weighings).set(values).where(thisWeighing(organisationId, id))
}

export async function deleteWeighing(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx.delete(weighings).where(thisWeighing(organisationId, id))
}

export function lockWeighing(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, weighings, organisationId, id)
}

/** Weighings that were logged by themselves on the day of a haul-out become part of it. */
export async function adoptWeighings(
  tx: Db,
  organisationId: string,
  haulOutId: string,
  ids: readonly string[],
): Promise<void> {
  if (ids.length === 0) return
  await tx
    .update(weighings)
    .set({ haulOutId })
    .where(
      and(eq(weighings.organisationId, organisationId), inArray(weighings.id, [...ids]), isNull(weighings.haulOutId)),
    )
}

/** An entry of the audit trail about one weighing, its row as JSON before and after, in the database's own names. */
export type WeighingEntry = Awaited<ReturnType<typeof entriesOfWeighing>>[number]

export function entriesOfWeighing(db: Db, organisationId: string, id: string) {
  return db
    .select({
      at: auditEntries.at,
      by: auditEntries.actor,
      action: auditEntries.action,
      reason: auditEntries.reason,
      before: sql<Record<string, unknown> | null>`${auditEntries.before}`,
      after: sql<Record<string, unknown> | null>`${auditEntries.after}`,
    })
    .from(auditEntries)
    .where(
      and(
        eq(auditEntries.organisationId, organisationId),
        eq(auditEntries.tableName, 'weighings'),
        eq(auditEntries.rowId, id),
      ),
    )
    .orderBy(asc(auditEntries.id))
}

/** Who first wrote a row, as the audit trail has it. */
export async function whoLogged(
  db: Db,
  organisationId: string,
  tableName: 'weighings' | 'anodes',
  rowId: string,
): Promise<string | undefined> {
  const [entry] = await db
    .select({ actor: auditEntries.actor })
    .from(auditEntries)
    .where(
      and(
        eq(auditEntries.organisationId, organisationId),
        eq(auditEntries.tableName, tableName),
        eq(auditEntries.rowId, rowId),
        eq(auditEntries.action, 'insert'),
      ),
    )
  return entry?.actor
}

function thisWeighing(organisationId: string, id: string): SQL | undefined {
  return and(eq(weighings.organisationId, organisationId), eq(weighings.id, id))
}

function records(db: Db, cursorValue: SQL<string | null>) {
  return db
    .select({ ...COLUMNS, cursorValue })
    .from(weighings)
    .innerJoin(anodes, and(eq(anodes.organisationId, weighings.organisationId), eq(anodes.id, weighings.anodeId)))
    .innerJoin(boats, and(eq(boats.organisationId, anodes.organisationId), eq(boats.id, anodes.boatId)))
    .$dynamic()
}

function filtersOf(query: WeighingQuery): (SQL | undefined)[] {
  return [
    query.boat === undefined ? undefined : meantBy(boats, query.boat),
    query.anode === undefined ? undefined : meantBy(anodes, query.anode),
    query.from === undefined ? undefined : gte(weighings.weighedOn, query.from),
    query.to === undefined ? undefined : lte(weighings.weighedOn, query.to),
    query.method === undefined ? undefined : eq(weighings.method, query.method),
  ]
}

function toRecord({ cursorValue: _, ...row }: Awaited<ReturnType<typeof records>>[number]) {
  return { ...row, createdAt: utcInstant(row.createdAt) }
}
