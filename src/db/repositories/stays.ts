import { and, eq, gt, isNull, lt, lte, ne, or, type SQL, sql } from 'drizzle-orm'
import type { Page } from '../../contract/paging.js'
import type { StayQuery, StayView } from '../../contract/stays.js'
import type { Db } from '../client.js'
import { berths, boats, stays } from '../schema/index.js'
import { dateKey, inEveryRow, instantKey, keysetOf, textKey } from './paging.js'
import { meantBy, utcInstant } from './references.js'
import { type Change, changesNothing, lockVersion } from './versions.js'
import { type Scope, visibleBoats } from './visibility.js'

type StayValues = Omit<typeof stays.$inferInsert, 'organisationId' | 'id' | 'createdAt' | 'version' | 'boatId'>

const SORT_KEYS = {
  fromOn: inEveryRow(dateKey(stays.fromOn)),
  toOn: dateKey(stays.toOn),
  boat: inEveryRow(textKey(boats.name)),
  createdAt: inEveryRow(instantKey(stays.createdAt)),
}

/** One page of the stays of the boats that the scope may see. */
export async function pageOfStays(db: Db, scope: Scope, query: StayQuery): Promise<Page<StayView>> {
  const keyset = keysetOf('stays', query, SORT_KEYS, stays.id)
  const rows = await staysWithNames(db, keyset.cursorValue)
    .where(and(visibleBoats(scope), ...filtersOf(query), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toView)
}

export async function readStay(db: Db, scope: Scope, id: string): Promise<StayView | undefined> {
  const [row] = await staysWithNames(db, sql`null`).where(and(visibleBoats(scope), eq(stays.id, id)))
  return row && toView(row)
}

/** A span of days [from, to) of one boat; open without `to`. */
export interface BoatSpan {
  readonly boatId: string
  readonly fromOn: string
  readonly toOn: string | null
}

/** The span of a stay, if the scope may see its boat. */
export async function findStaySpan(db: Db, scope: Scope, id: string): Promise<BoatSpan | undefined> {
  const [row] = await db
    .select({ boatId: stays.boatId, fromOn: stays.fromOn, toOn: stays.toOn })
    .from(stays)
    .innerJoin(boats, and(eq(boats.organisationId, stays.organisationId), eq(boats.id, stays.boatId)))
    .where(and(visibleBoats(scope), eq(stays.id, id)))
  return row
}

/** The first other stay of the boat that shares a day with the span, or begins on the same one. */
export async function stayThatOverlaps(
  tx: Db,
  organisationId: string,
  span: BoatSpan,
  exceptId?: string,
): Promise<StayView | undefined> {
  const sharesDay = sql`daterange(${stays.fromOn}, ${stays.toOn}) && daterange(${span.fromOn}::date, ${span.toOn}::date)`
  const [row] = await staysWithNames(tx, sql`null`)
    .where(
      and(
        eq(stays.organisationId, organisationId),
        eq(stays.boatId, span.boatId),
        or(sharesDay, eq(stays.fromOn, span.fromOn)),
        exceptId === undefined ? undefined : ne(stays.id, exceptId),
      ),
    )
    .orderBy(stays.fromOn)
    .limit(1)
  return row && toView(row)
}

/** Ends the boat's open stay on that day, if it began before. */
export async function closeOpenStay(tx: Db, organisationId: string, boatId: string, toOn: string): Promise<void> {
  await tx
    .update(stays)
    .set({ toOn })
    .where(
      and(
        eq(stays.organisationId, organisationId),
        eq(stays.boatId, boatId),
        isNull(stays.toOn),
        lt(stays.fromOn, toOn),
      ),
    )
}

export async function insertStay(tx: Db, organisationId: string, boatId: string, values: StayValues): Promise<string> {
  const [row] = await tx
    .insert(stays)
    .values({ ...values, organisationId, boatId })
    .returning({ id: stays.id })
  return row!.id
}

export async function updateStay(
  tx: Db,
  organisationId: string,
  id: string,
  values: Change<StayValues>,
): Promise<void> {
  if (changesNothing(values)) return
  await tx.update(stays).set(values).where(thisStay(organisationId, id))
}

export async function deleteStay(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx.delete(stays).where(thisStay(organisationId, id))
}

export function lockStay(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, stays, organisationId, id)
}

function thisStay(organisationId: string, id: string): SQL | undefined {
  return and(eq(stays.organisationId, organisationId), eq(stays.id, id))
}

function staysWithNames(db: Db, cursorValue: SQL<string | null>) {
  return db
    .select({
      id: stays.id,
      boat: boats.name,
      berth: berths.name,
      fromOn: stays.fromOn,
      toOn: stays.toOn,
      shorePowerHoursPerDay: stays.shorePowerHoursPerDay,
      createdAt: stays.createdAt,
      version: stays.version,
      cursorValue,
    })
    .from(stays)
    .innerJoin(boats, and(eq(boats.organisationId, stays.organisationId), eq(boats.id, stays.boatId)))
    .leftJoin(berths, and(eq(berths.organisationId, stays.organisationId), eq(berths.id, stays.berthId)))
    .$dynamic()
}

function filtersOf(query: StayQuery): (SQL | undefined)[] {
  return [
    query.boat === undefined ? undefined : meantBy(boats, query.boat),
    query.berth === undefined ? undefined : meantBy(berths, query.berth),
    // The day of leaving belongs to the next stay.
    query.from === undefined
      ? undefined
      : or(isNull(stays.toOn), gt(stays.toOn, query.from), eq(stays.fromOn, query.from)),
    query.to === undefined ? undefined : lte(stays.fromOn, query.to),
  ]
}

type StayRow = Awaited<ReturnType<typeof staysWithNames>>[number]

function toView({ cursorValue: _, ...row }: StayRow): StayView {
  return { ...row, createdAt: utcInstant(row.createdAt) }
}
