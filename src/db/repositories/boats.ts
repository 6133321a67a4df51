import { and, eq, getTableColumns, gt, inArray, isNull, lte, or, type SQL, sql } from 'drizzle-orm'
import type { BoatQuery, BoatView } from '../../contract/boats.js'
import { looksLikeId } from '../../contract/names.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../client.js'
import { berths, boats, owners, pontoons, stays } from '../schema/index.js'
import { inEveryRow, instantKey, type Keyset, keysetOf, numberKey, textKey } from './paging.js'
import { containsOften, meantBy, patternOf, utcInstant } from './references.js'
import { type Change, changesNothing, lockVersion } from './versions.js'
import { type Scope, visibleBoats } from './visibility.js'

type BoatValues = Omit<typeof boats.$inferInsert, 'organisationId' | 'id' | 'createdAt' | 'version'>

const SORT_KEYS = {
  name: inEveryRow(textKey(boats.name)),
  launchedYear: numberKey(boats.launchedYear),
  createdAt: inEveryRow(instantKey(boats.createdAt)),
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
  const hull = query.hull && eq(boats.hull, query.hull)
  const own = and(visibleBoats(scope), hull, await ownedBy(db, query.owner), keyset.after)
  const found = query.q === undefined ? undefined : await holding(db, query.q)
  const list = found?.few
    ? fewWithWhereabouts(db, today, keyset, found.few, own)
    : boatsWithWhereabouts(db, today, keyset.cursorValue)
  const rows = await list
    .where(and(own, found?.many, ...filtersByBerth(query)))
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

/** The same, which stays as it is until the transaction ends: of two that write of one boat, the second waits here. */
export async function lockMeantBoat(tx: Db, scope: Scope, boat: string): Promise<BoatKey | undefined> {
  const [row] = await tx
    .select({ id: boats.id, name: boats.name, ownerId: boats.ownerId })
    .from(boats)
    .where(and(visibleBoats(scope), meantBy(boats, boat)))
    .for('update')
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

/** What of other tables belongs to a boat. At most one stay of it covers a day, so that the joins never double a boat. */
function whereabouts(today: string) {
  return {
    owner: and(eq(owners.organisationId, boats.organisationId), eq(owners.id, boats.ownerId)),
    stay: and(
      eq(stays.organisationId, boats.organisationId),
      eq(stays.boatId, boats.id),
      lte(stays.fromOn, today),
      or(isNull(stays.toOn), gt(stays.toOn, today)),
    ),
    berth: and(eq(berths.organisationId, stays.organisationId), eq(berths.id, stays.berthId)),
    pontoon: and(eq(pontoons.organisationId, berths.organisationId), eq(pontoons.id, berths.pontoonId)),
  }
}

function boatsWithWhereabouts(db: Db, today: string, cursorValue: SQL<string | null>) {
  const { owner, stay, berth, pontoon } = whereabouts(today)
  return db
    .select({ ...COLUMNS, cursorValue })
    .from(boats)
    .leftJoin(owners, owner)
    .leftJoin(stays, stay)
    .leftJoin(berths, berth)
    .leftJoin(pontoons, pontoon)
    .$dynamic()
}

/**
 * The same of a few boats by their ids. The planner, which counts on blocks that come from a disk, would rather read all boats, owners, stays
 * and berths of the organisation than look some up; what ends with its first row it can only ask for one by one. Sorted before that, what
 * lies beyond the page is not asked for.
 */
function fewWithWhereabouts(db: Db, today: string, keyset: Keyset, ids: readonly string[], own: SQL | undefined) {
  const { owner, stay, berth, pontoon } = whereabouts(today)
  const boat = db
    .select()
    .from(boats)
    .where(and(own, sql`${boats.id} = few.id`))
  const sorted = db
    .select(getTableColumns(boats))
    .from(sql`unnest(${sql.param(ids)}::uuid[]) few (id)`)
    .innerJoinLateral(boat.limit(1).as('boats'), sql`true`)
    .orderBy(...keyset.orderBy)
  return db
    .select({ ...COLUMNS, cursorValue: keyset.cursorValue })
    .from(sorted.as('boats'))
    .leftJoinLateral(db.select().from(owners).where(owner).limit(1).as('owners'), sql`true`)
    .leftJoinLateral(db.select().from(stays).where(stay).limit(1).as('stays'), sql`true`)
    .leftJoinLateral(db.select().from(berths).where(berth).limit(1).as('berths'), sql`true`)
    .leftJoinLateral(db.select().from(pontoons).where(pontoon).limit(1).as('pontoons'), sql`true`)
    .$dynamic()
}

function filtersByBerth(query: BoatQuery): (SQL | undefined)[] {
  return [
    query.berth === undefined ? undefined : meantBy(berths, query.berth),
    query.pontoon === undefined ? undefined : meantBy(pontoons, query.pontoon),
    query.water === undefined ? undefined : eq(berths.water, query.water),
  ]
}

/** By the owner's id, name or address: asked for first, so that the boats are then read by an index. */
async function ownedBy(db: Db, owner: string | undefined): Promise<SQL | undefined> {
  if (owner === undefined) return undefined
  if (looksLikeId(owner)) return eq(boats.ownerId, owner)
  return inArray(boats.ownerId, await idsFrom(db, sql`owners_called(${owner})`))
}

/** Up to so many are looked up and sorted; of more, those of a page are soon met along its order. Status: a choice. */
const FEW_BOATS = 200

/** The boats whose name holds a part: by their ids where few do, else by a condition. */
async function holding(db: Db, part: string): Promise<{ few?: string[]; many?: SQL }> {
  const ids = await idsFrom(db, sql`boats_holding(${patternOf(part)}, ${FEW_BOATS + 1})`)
  return ids.length > FEW_BOATS ? { many: containsOften(boats.name, part) } : { few: ids }
}

async function idsFrom(db: Db, call: SQL): Promise<string[]> {
  const rows = await db.select({ id: sql<string>`id` }).from(sql`${call} id`)
  return rows.map(({ id }) => id)
}

type BoatRow = Awaited<ReturnType<typeof boatsWithWhereabouts>>[number]

function toView({ cursorValue: _, ...row }: BoatRow): BoatView {
  return { ...row, createdAt: utcInstant(row.createdAt) }
}

export async function namesOfVisibleBoats(db: Db, scope: Scope): Promise<string[]> {
  const rows = await db.select({ name: boats.name }).from(boats).where(visibleBoats(scope))
  return rows.map(({ name }) => name)
}
