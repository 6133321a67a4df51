import { aliasedTable, and, asc, count, eq, gte, isNull, lte, ne, or, type SQL, sql } from 'drizzle-orm'
import type { HaulOutDetail, HaulOutQuery, HaulOutView } from '../../contract/haul-outs.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../client.js'
import { anodes, boats, haulOuts, positions, weighings } from '../schema/index.js'
import { dateKey, inEveryRow, instantKey, keysetOf, textKey } from './paging.js'
import { meantBy, utcInstant } from './references.js'
import { type Change, changesNothing, lockVersion } from './versions.js'
import { type Scope, visibleBoats } from './visibility.js'

export type HaulOutValues = Omit<typeof haulOuts.$inferInsert, 'organisationId' | 'id' | 'createdAt' | 'version'>

/** A haul-out as it is shown, with its boat's id. */
export interface HaulOutRecord extends HaulOutView {
  readonly boatId: string
}

const SORT_KEYS = {
  hauledOn: inEveryRow(dateKey(haulOuts.hauledOn)),
  boat: inEveryRow(textKey(boats.name)),
  createdAt: inEveryRow(instantKey(haulOuts.createdAt)),
}

const COLUMNS = {
  id: haulOuts.id,
  boatId: haulOuts.boatId,
  boat: boats.name,
  hauledOn: haulOuts.hauledOn,
  relaunchedOn: haulOuts.relaunchedOn,
  planned: haulOuts.planned,
  note: haulOuts.note,
  createdAt: haulOuts.createdAt,
  version: haulOuts.version,
}

export async function pageOfHaulOuts(db: Db, scope: Scope, query: HaulOutQuery): Promise<Page<HaulOutView>> {
  const keyset = keysetOf('haul-outs', query, SORT_KEYS, haulOuts.id)
  const rows = await records(db, keyset.cursorValue)
    .where(and(visibleBoats(scope), ...filtersOf(query), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, (row) => haulOutView(toRecord(row)))
}

export async function findHaulOut(db: Db, scope: Scope, id: string): Promise<HaulOutRecord | undefined> {
  const [row] = await records(db, sql`null`).where(and(visibleBoats(scope), eq(haulOuts.id, id)))
  return row && toRecord(row)
}

/** The haul-out of a boat on one day: there is one at most. */
export async function haulOutOnDay(
  db: Db,
  organisationId: string,
  boatId: string,
  day: string,
): Promise<HaulOutRecord | undefined> {
  const [row] = await records(db, sql`null`).where(
    and(eq(haulOuts.organisationId, organisationId), eq(haulOuts.boatId, boatId), eq(haulOuts.hauledOn, day)),
  )
  return row && toRecord(row)
}

export async function insertHaulOut(tx: Db, organisationId: string, values: HaulOutValues): Promise<string> {
  const [row] = await tx
    .insert(haulOuts)
    .values({ ...values, organisationId })
    .returning({ id: haulOuts.id })
  return row!.id
}

export async function updateHaulOut(
  tx: Db,
  organisationId: string,
  id: string,
  values: Change<HaulOutValues>,
): Promise<void> {
  if (changesNothing(values)) return
  await tx.update(haulOuts).set(values).where(thisHaulOut(organisationId, id))
}

export async function deleteHaulOut(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx.delete(haulOuts).where(thisHaulOut(organisationId, id))
}

export function lockHaulOut(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, haulOuts, organisationId, id)
}

export async function countWeighings(db: Db, organisationId: string, haulOutId: string): Promise<number> {
  const [row] = await db
    .select({ count: count() })
    .from(weighings)
    .where(and(eq(weighings.organisationId, organisationId), eq(weighings.haulOutId, haulOutId)))
  return Number(row?.count ?? 0)
}

/** Anodes of a boat that were removed on a day, each with what was fitted in its place that same day. */
export function replacedOnDay(
  db: Db,
  organisationId: string,
  boatId: string,
  day: string,
): Promise<HaulOutDetail['replaced']> {
  const next = aliasedTable(anodes, 'next')
  const inItsPlace = and(
    eq(next.organisationId, anodes.organisationId),
    eq(next.positionId, anodes.positionId),
    eq(next.fittedOn, day),
    ne(next.id, anodes.id),
  )
  return db
    .select({ anode: anodes.name, by: next.name, position: positions.label })
    .from(anodes)
    .innerJoin(next, inItsPlace)
    .innerJoin(positions, and(eq(positions.organisationId, anodes.organisationId), eq(positions.id, anodes.positionId)))
    .where(and(eq(anodes.organisationId, organisationId), eq(anodes.boatId, boatId), eq(anodes.removedOn, day)))
    .orderBy(asc(anodes.name))
}

/** What is shown of a haul-out. */
export function haulOutView({ boatId: _, ...shown }: HaulOutRecord): HaulOutView {
  return shown
}

function thisHaulOut(organisationId: string, id: string): SQL | undefined {
  return and(eq(haulOuts.organisationId, organisationId), eq(haulOuts.id, id))
}

function records(db: Db, cursorValue: SQL<string | null>) {
  return db
    .select({ ...COLUMNS, cursorValue })
    .from(haulOuts)
    .innerJoin(boats, and(eq(boats.organisationId, haulOuts.organisationId), eq(boats.id, haulOuts.boatId)))
    .$dynamic()
}

function filtersOf(query: HaulOutQuery): (SQL | undefined)[] {
  return [
    query.boat === undefined ? undefined : meantBy(boats, query.boat),
    query.from === undefined ? undefined : gte(haulOuts.hauledOn, query.from),
    query.to === undefined ? undefined : lte(haulOuts.hauledOn, query.to),
    query.planned === undefined ? undefined : isPlanned(query.planned),
  ]
}

/** A haul-out of which nobody said that it was planned counts as not planned. */
function isPlanned(wanted: boolean): SQL | undefined {
  return wanted ? eq(haulOuts.planned, true) : or(isNull(haulOuts.planned), eq(haulOuts.planned, false))
}

function toRecord({ cursorValue: _, ...row }: Awaited<ReturnType<typeof records>>[number]): HaulOutRecord {
  return { ...row, createdAt: utcInstant(row.createdAt) }
}
