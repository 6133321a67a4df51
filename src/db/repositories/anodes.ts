import { and, asc, eq, gt, inArray, isNull, lte, or, type SQL, sql } from 'drizzle-orm'
import type { AnodeQuery, AnodeView } from '../../contract/anodes.js'
import type { Page } from '../../contract/paging.js'
import type { PositionKind } from '../../contract/vocabulary.js'
import type { Db } from '../client.js'
import { anodes, boats, positions, weighings } from '../schema/index.js'
import { dateKey, inEveryRow, instantKey, keysetOf, textKey } from './paging.js'
import { containsOften, meantBy, utcInstant } from './references.js'
import { type Change, changesNothing, lockVersion } from './versions.js'
import { type Scope, visibleBoats } from './visibility.js'

export type AnodeValues = Omit<typeof anodes.$inferInsert, 'organisationId' | 'id' | 'createdAt' | 'version'>

/** A row of `anodes` with what its boat and its position are called. */
export interface AnodeRecord extends Omit<typeof anodes.$inferSelect, 'createdAt'> {
  readonly boat: string
  readonly position: string
}

const SORT_KEYS = {
  boat: inEveryRow(textKey(boats.name)),
  name: inEveryRow(textKey(anodes.name)),
  position: inEveryRow(textKey(positions.label)),
  fittedOn: dateKey(anodes.fittedOn),
  removedOn: dateKey(anodes.removedOn),
  createdAt: inEveryRow(instantKey(anodes.createdAt)),
}

const LAST_WEIGHING = sql<AnodeView['lastWeighing']>`(
  select json_build_object('weighedOn', ${weighings.weighedOn}, 'method', ${weighings.method},
    'massG', ${weighings.massG}, 'wastedPercent', ${weighings.wastedPercent})
  from ${weighings}
  where ${weighings.organisationId} = ${anodes.organisationId} and ${weighings.anodeId} = ${anodes.id}
  order by ${weighings.weighedOn} desc limit 1)`

const VIEW_COLUMNS = {
  id: anodes.id,
  boat: boats.name,
  name: anodes.name,
  position: positions.label,
  positionSlot: positions.slot,
  positionKind: positions.kind,
  alloy: anodes.alloy,
  shape: anodes.shape,
  fittedOn: anodes.fittedOn,
  removedOn: anodes.removedOn,
  grossMassG: anodes.grossMassG,
  coreMassG: anodes.coreMassG,
  lengthMm: anodes.lengthMm,
  widthMm: anodes.widthMm,
  heightMm: anodes.heightMm,
  bonded: anodes.bonded,
  lastWeighing: LAST_WEIGHING,
  createdAt: anodes.createdAt,
  version: anodes.version,
}

const RECORD_COLUMNS = {
  organisationId: anodes.organisationId,
  id: anodes.id,
  boatId: anodes.boatId,
  positionId: anodes.positionId,
  name: anodes.name,
  alloy: anodes.alloy,
  shape: anodes.shape,
  fittedOn: anodes.fittedOn,
  removedOn: anodes.removedOn,
  grossMassG: anodes.grossMassG,
  coreMassG: anodes.coreMassG,
  lengthMm: anodes.lengthMm,
  widthMm: anodes.widthMm,
  heightMm: anodes.heightMm,
  bonded: anodes.bonded,
  version: anodes.version,
  boat: boats.name,
  position: positions.label,
}

const OF_BOAT = and(eq(boats.organisationId, anodes.organisationId), eq(boats.id, anodes.boatId))
const AT_POSITION = and(eq(positions.organisationId, anodes.organisationId), eq(positions.id, anodes.positionId))

/** One page of the anodes on boats that the scope may see, past and present. */
export async function pageOfAnodes(db: Db, scope: Scope, query: AnodeQuery): Promise<Page<AnodeView>> {
  const keyset = keysetOf('anodes', query, SORT_KEYS, anodes.id)
  const rows = await views(db, keyset.cursorValue)
    .where(and(visibleBoats(scope), ...filtersOf(query), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toView)
}

export async function readAnode(db: Db, scope: Scope, boat: string, anode: string): Promise<AnodeView | undefined> {
  const [row] = await views(db, sql`null`).where(and(visibleBoats(scope), meantBy(boats, boat), meantBy(anodes, anode)))
  return row && toView(row)
}

/** The anode that a path means, as it is stored, if the scope may see its boat. */
export async function findAnode(db: Db, scope: Scope, boat: string, anode: string): Promise<AnodeRecord | undefined> {
  const [row] = await records(db).where(and(visibleBoats(scope), meantBy(boats, boat), meantBy(anodes, anode)))
  return row
}

/** Whether the scope may see an anode's boat. */
export async function anodeVisible(db: Db, scope: Scope, id: string): Promise<boolean> {
  const rows = await records(db).where(and(visibleBoats(scope), eq(anodes.id, id)))
  return rows.length > 0
}

/** All anodes a boat has and had, by name. */
export function anodesOfBoat(db: Db, organisationId: string, boatId: string): Promise<AnodeRecord[]> {
  return records(db)
    .where(and(eq(anodes.organisationId, organisationId), eq(anodes.boatId, boatId)))
    .orderBy(asc(anodes.name))
}

export async function insertAnode(tx: Db, organisationId: string, values: AnodeValues): Promise<string> {
  const [row] = await tx
    .insert(anodes)
    .values({ ...values, organisationId })
    .returning({ id: anodes.id })
  return row!.id
}

export async function insertAnodes(tx: Db, organisationId: string, values: readonly AnodeValues[]): Promise<void> {
  if (values.length === 0) return
  await tx.insert(anodes).values(values.map((each) => ({ ...each, organisationId })))
}

/** Takes anodes off on a day. */
export async function removeAnodes(
  tx: Db,
  organisationId: string,
  ids: readonly string[],
  removedOn: string,
): Promise<void> {
  if (ids.length === 0) return
  await tx
    .update(anodes)
    .set({ removedOn })
    .where(and(eq(anodes.organisationId, organisationId), inArray(anodes.id, [...ids])))
}

export async function updateAnode(
  tx: Db,
  organisationId: string,
  id: string,
  values: Change<AnodeValues>,
): Promise<void> {
  if (changesNothing(values)) return
  await tx.update(anodes).set(values).where(thisAnode(organisationId, id))
}

export async function deleteAnode(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx.delete(anodes).where(thisAnode(organisationId, id))
}

export function lockAnode(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, anodes, organisationId, id)
}

/** A position of one label, with the life of an anode that sits or sat there; null where none ever did. */
export interface OccupiedPosition {
  readonly id: string
  readonly label: string
  readonly slot: number
  readonly anodeId: string | null
  readonly fittedOn: string | null
  readonly removedOn: string | null
}

/** The positions of a boat that go by this label, in either case, in the order of their slots. */
export function positionsOfLabel(
  db: Db,
  organisationId: string,
  boatId: string,
  label: string,
): Promise<OccupiedPosition[]> {
  return db
    .select({
      id: positions.id,
      label: positions.label,
      slot: positions.slot,
      anodeId: anodes.id,
      fittedOn: anodes.fittedOn,
      removedOn: anodes.removedOn,
    })
    .from(positions)
    .leftJoin(anodes, AT_POSITION)
    .where(
      and(
        eq(positions.organisationId, organisationId),
        eq(positions.boatId, boatId),
        eq(sql`lower(${positions.label})`, label.toLowerCase()),
      ),
    )
    .orderBy(asc(positions.slot), asc(positions.id))
}

export async function insertPosition(
  tx: Db,
  organisationId: string,
  values: { boatId: string; label: string; slot: number; kind: PositionKind },
): Promise<string> {
  const [row] = await tx
    .insert(positions)
    .values({ ...values, organisationId })
    .returning({ id: positions.id })
  return row!.id
}

function thisAnode(organisationId: string, id: string): SQL | undefined {
  return and(eq(anodes.organisationId, organisationId), eq(anodes.id, id))
}

function views(db: Db, cursorValue: SQL<string | null>) {
  return db
    .select({ ...VIEW_COLUMNS, cursorValue })
    .from(anodes)
    .innerJoin(boats, OF_BOAT)
    .innerJoin(positions, AT_POSITION)
    .$dynamic()
}

function records(db: Db) {
  return db.select(RECORD_COLUMNS).from(anodes).innerJoin(boats, OF_BOAT).innerJoin(positions, AT_POSITION).$dynamic()
}

function filtersOf(query: AnodeQuery): (SQL | undefined)[] {
  return [
    query.boat === undefined ? undefined : meantBy(boats, query.boat),
    query.alloy === undefined ? undefined : eq(anodes.alloy, query.alloy),
    query.positionKind === undefined ? undefined : eq(positions.kind, query.positionKind),
    query.inPlaceOn === undefined ? undefined : inPlaceOn(query.inPlaceOn),
    // Anodes are mostly called after their positions, as on every boat.
    query.q === undefined ? undefined : containsOften(anodes.name, query.q),
  ]
}

/** Over [fitted, removed), as the database's own rule has it; an unknown end is open. */
function inPlaceOn(day: string): SQL | undefined {
  return and(
    or(isNull(anodes.fittedOn), lte(anodes.fittedOn, day)),
    or(isNull(anodes.removedOn), gt(anodes.removedOn, day)),
  )
}

type AnodeRow = Awaited<ReturnType<typeof views>>[number]

function toView({ cursorValue: _, ...row }: AnodeRow): AnodeView {
  return { ...row, createdAt: utcInstant(row.createdAt) }
}
