import { and, eq, exists, notExists, type SQL, sql } from 'drizzle-orm'
import type { BerthQuery, BerthView } from '../../contract/berths.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../client.js'
import { berths, boats, pontoons, stays } from '../schema/index.js'
import { instantKey, keysetOf, textKey } from './paging.js'
import { contains, meantBy, utcInstant } from './references.js'
import { type Change, changesNothing, lockVersion } from './versions.js'
import { type Scope, visibleBoats } from './visibility.js'

type BerthValues = Omit<typeof berths.$inferInsert, 'organisationId' | 'id' | 'createdAt' | 'version'>

const SORT_KEYS = {
  name: textKey(berths.name),
  pontoon: textKey(pontoons.name),
  createdAt: instantKey(berths.createdAt),
}

/** One page of the berths that the scope may see. */
export async function pageOfBerths(db: Db, scope: Scope, query: BerthQuery): Promise<Page<BerthView>> {
  const keyset = keysetOf('berths', query, SORT_KEYS, berths.id)
  const rows = await berthsWithPontoons(db, keyset.cursorValue)
    .where(and(visibleBerths(db, scope), ...filtersOf(query), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toView)
}

export async function readBerth(db: Db, scope: Scope, berth: string): Promise<BerthView | undefined> {
  const [row] = await berthsWithPontoons(db, sql`null`).where(and(visibleBerths(db, scope), meantBy(berths, berth)))
  return row && toView(row)
}

/** What names a berth, and its pontoon. */
export interface BerthKey {
  readonly id: string
  readonly name: string
  readonly pontoonId: string | null
}

/** The berth that a path or a request means, if the scope may see it. */
export async function findBerth(db: Db, scope: Scope, berth: string): Promise<BerthKey | undefined> {
  const [row] = await db
    .select({ id: berths.id, name: berths.name, pontoonId: berths.pontoonId })
    .from(berths)
    .where(and(visibleBerths(db, scope), meantBy(berths, berth)))
  return row
}

export async function insertBerth(tx: Db, organisationId: string, values: BerthValues): Promise<string> {
  const [row] = await tx
    .insert(berths)
    .values({ ...values, organisationId })
    .returning({ id: berths.id })
  return row!.id
}

export async function updateBerth(
  tx: Db,
  organisationId: string,
  id: string,
  values: Change<BerthValues>,
): Promise<void> {
  if (changesNothing(values)) return
  await tx.update(berths).set(values).where(thisBerth(organisationId, id))
}

export async function deleteBerth(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx.delete(berths).where(thisBerth(organisationId, id))
}

export function lockBerth(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, berths, organisationId, id)
}

/** Whether a boat ever lay, or will lie, at the berth. */
export async function berthHasStays(tx: Db, organisationId: string, id: string): Promise<boolean> {
  const found = await tx
    .select({ id: stays.id })
    .from(stays)
    .where(and(eq(stays.organisationId, organisationId), eq(stays.berthId, id)))
    .limit(1)
  return found.length > 0
}

/**
 * The pontoon of that name, made when new, and held against removal until the transaction ends: `do nothing` would look
 * away from one that is being removed, an update that touches no row waits and then makes it anew.
 */
export async function pontoonIdFor(tx: Db, organisationId: string, name: string): Promise<string> {
  await tx
    .insert(pontoons)
    .values({ organisationId, name })
    .onConflictDoUpdate({
      target: [pontoons.organisationId, pontoons.name],
      set: { version: pontoons.version },
      setWhere: sql`false`,
    })
  const [pontoon] = await tx
    .select({ id: pontoons.id })
    .from(pontoons)
    .where(and(eq(pontoons.organisationId, organisationId), eq(pontoons.name, name)))
  if (!pontoon) throw new Error('the pontoon vanished while a berth was being put on it')
  return pontoon.id
}

/** Removes a pontoon that has no berth left. */
export async function removePontoonWithoutBerths(tx: Db, organisationId: string, pontoonId: string): Promise<void> {
  const thisPontoon = and(eq(pontoons.organisationId, organisationId), eq(pontoons.id, pontoonId))
  // Waits for whoever is putting a berth on it; the statement after it then sees that berth.
  await tx.select({ id: pontoons.id }).from(pontoons).where(thisPontoon).for('update')
  const itsBerths = tx
    .select({ one: sql`1` })
    .from(berths)
    .where(and(eq(berths.organisationId, organisationId), eq(berths.pontoonId, pontoonId)))
  await tx.delete(pontoons).where(and(thisPontoon, notExists(itsBerths)))
}

/** An owner knows the berths where their boats have lain or will lie, and no other. */
function visibleBerths(db: Db, scope: Scope): SQL | undefined {
  const inOrganisation = eq(berths.organisationId, scope.organisationId)
  if (scope.ownerEmail === undefined) return inOrganisation
  const staysThere = db
    .select({ one: sql`1` })
    .from(stays)
    .innerJoin(boats, and(eq(boats.organisationId, stays.organisationId), eq(boats.id, stays.boatId)))
    .where(and(eq(stays.organisationId, berths.organisationId), eq(stays.berthId, berths.id), visibleBoats(scope)))
  return and(inOrganisation, exists(staysThere))
}

function thisBerth(organisationId: string, id: string): SQL | undefined {
  return and(eq(berths.organisationId, organisationId), eq(berths.id, id))
}

function berthsWithPontoons(db: Db, cursorValue: SQL<string | null>) {
  return db
    .select({
      id: berths.id,
      name: berths.name,
      pontoon: pontoons.name,
      water: berths.water,
      salinityPsu: berths.salinityPsu,
      latitude: berths.latitude,
      longitude: berths.longitude,
      shorePower: berths.shorePower,
      planX: berths.planX,
      planY: berths.planY,
      createdAt: berths.createdAt,
      version: berths.version,
      cursorValue,
    })
    .from(berths)
    .leftJoin(pontoons, and(eq(pontoons.organisationId, berths.organisationId), eq(pontoons.id, berths.pontoonId)))
    .$dynamic()
}

function filtersOf(query: BerthQuery): (SQL | undefined)[] {
  return [
    query.pontoon === undefined ? undefined : meantBy(pontoons, query.pontoon),
    query.water === undefined ? undefined : eq(berths.water, query.water),
    query.q === undefined ? undefined : contains(berths.name, query.q),
  ]
}

type BerthRow = Awaited<ReturnType<typeof berthsWithPontoons>>[number]

function toView({ cursorValue: _, ...row }: BerthRow): BerthView {
  return { ...row, createdAt: utcInstant(row.createdAt) }
}
