import { and, eq, gt, isNull, lte, or, type SQL, sql } from 'drizzle-orm'
import type { BoatQuery, BoatView } from '../../contract/boats.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../client.js'
import { berths, boats, owners, pontoons, stays } from '../schema/index.js'
import { instantKey, keysetOf, numberKey, textKey } from './paging.js'
import { contains, meantBy, utcInstant } from './references.js'
import { type Change, changesNothing, lockVersion } from './versions.js'
import { type Scope, visibleBoats } from './visibility.js'

type BoatValues = Omit<typeof boats.$inferInsert, 'organisationId' | 'id' | 'createdAt' | 'version'>

const SORT_KEYS = {
  name: textKey(boats.name),
  launchedYear: numberKey(boats.launchedYear),
  createdAt: instantKey(boats.createdAt),
}

const COLUMNS = {
  id: boats.id,
  name: boats.name,
  ownerName: owners.name,
  ownerEmail: owners.email,
  hull: boats.hull,
  galvanicIsolator: boats.galvanicIsolator,
  launchedYear: boats.launchedYear,
  wastingThreshold: boats.wastingThreshold,
  currentBerth: berths.name,
  ashore: sql<boolean | null>`case when ${stays.id} is not null then ${stays.berthId} is null end`,
  createdAt: boats.createdAt,
  version: boats.version,
}

/** One page of the boats that the scope may see, with where they lie on the day given. */
export async function pageOfBoats(db: Db, scope: Scope, today: string, query: BoatQuery): Promise<Page<BoatView>> {
  const keyset = keysetOf('boats', query, SORT_KEYS, boats.id)
  const rows = await boatsWithWhereabouts(db, today, keyset.cursorValue)
    .where(and(visibleBoats(scope), ...filtersOf(query), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toView)
}

export async function readBoat(db: Db, scope: Scope, today: string, boat: string): Promise<BoatView | undefined> {
  const [row] = await boatsWithWhereabouts(db, today, sql`null`).where(and(visibleBoats(scope), meantBy(boats, boat)))
  return row && toView(row)
}

/** What names a boat, and who owns it. */
export interface BoatKey {
  readonly id: string
  readonly name: string
  readonly ownerId: string | null
}

/** The boat that a path or a filter means, if the scope may see it. */
export async function findBoat(db: Db, scope: Scope, boat: string): Promise<BoatKey | undefined> {
  const [row] = await db
    .select({ id: boats.id, name: boats.name, ownerId: boats.ownerId })
    .from(boats)
    .where(and(visibleBoats(scope), meantBy(boats, boat)))
  return row
}

export async function insertBoat(tx: Db, organisationId: string, values: BoatValues): Promise<string> {
  const [row] = await tx
    .insert(boats)
    .values({ ...values, organisationId })
    .returning({ id: boats.id })
  return row!.id
}

export async function updateBoat(
  tx: Db,
  organisationId: string,
  id: string,
  values: Change<BoatValues>,
): Promise<void> {
  if (changesNothing(values)) return
  await tx.update(boats).set(values).where(thisBoat(organisationId, id))
}

/** Removes a boat with all that hangs on it; the audit trail keeps every row as it was. */
export async function deleteBoat(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx.delete(boats).where(thisBoat(organisationId, id))
}

export function lockBoat(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, boats, organisationId, id)
}

function thisBoat(organisationId: string, id: string): SQL | undefined {
  return and(eq(boats.organisationId, organisationId), eq(boats.id, id))
}

/** At most one stay of a boat covers a day, so that the joins never double a boat. */
function boatsWithWhereabouts(db: Db, today: string, cursorValue: SQL<string | null>) {
  const coversToday = and(lte(stays.fromOn, today), or(isNull(stays.toOn), gt(stays.toOn, today)))
  return db
    .select({ ...COLUMNS, cursorValue })
    .from(boats)
    .leftJoin(owners, and(eq(owners.organisationId, boats.organisationId), eq(owners.id, boats.ownerId)))
    .leftJoin(stays, and(eq(stays.organisationId, boats.organisationId), eq(stays.boatId, boats.id), coversToday))
    .leftJoin(berths, and(eq(berths.organisationId, stays.organisationId), eq(berths.id, stays.berthId)))
    .leftJoin(pontoons, and(eq(pontoons.organisationId, berths.organisationId), eq(pontoons.id, berths.pontoonId)))
    .$dynamic()
}

function filtersOf(query: BoatQuery): (SQL | undefined)[] {
  return [
    query.berth === undefined ? undefined : meantBy(berths, query.berth),
    query.pontoon === undefined ? undefined : meantBy(pontoons, query.pontoon),
    query.water === undefined ? undefined : eq(berths.water, query.water),
    query.hull === undefined ? undefined : eq(boats.hull, query.hull),
    query.owner === undefined
      ? undefined
      : or(meantBy(owners, query.owner), eq(sql`lower(${owners.email})`, query.owner.toLowerCase())),
    query.q === undefined ? undefined : contains(boats.name, query.q),
  ]
}

type BoatRow = Awaited<ReturnType<typeof boatsWithWhereabouts>>[number]

function toView({ cursorValue: _, ...row }: BoatRow): BoatView {
  return { ...row, createdAt: utcInstant(row.createdAt) }
}

export async function namesOfVisibleBoats(db: Db, scope: Scope): Promise<string[]> {
  const rows = await db.select({ name: boats.name }).from(boats).where(visibleBoats(scope))
  return rows.map(({ name }) => name)
}
