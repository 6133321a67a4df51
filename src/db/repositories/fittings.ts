import { and, eq, type SQL, sql } from 'drizzle-orm'
import type { FittingQuery, FittingView } from '../../contract/fittings.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../client.js'
import { boats, fittings } from '../schema/index.js'
import { instantKey, keysetOf, numberKey, textKey } from './paging.js'
import { meantBy, utcInstant } from './references.js'
import { type Change, changesNothing, lockVersion } from './versions.js'

type FittingValues = Omit<typeof fittings.$inferInsert, 'organisationId' | 'id' | 'createdAt' | 'version' | 'boatId'>

const SORT_KEYS = {
  name: textKey(fittings.name),
  areaCm2: numberKey(fittings.areaCm2),
  createdAt: instantKey(fittings.createdAt),
}

/** One page of a boat's fittings; the caller has made sure that the boat may be seen. */
export async function pageOfFittings(
  db: Db,
  organisationId: string,
  boatId: string,
  query: FittingQuery,
): Promise<Page<FittingView>> {
  const keyset = keysetOf('fittings', query, SORT_KEYS, fittings.id)
  const ofMetal = query.metal === undefined ? undefined : eq(fittings.metal, query.metal)
  const rows = await fittingsWithBoat(db, keyset.cursorValue)
    .where(and(ofBoat(organisationId, boatId), ofMetal, keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toView)
}

/** A boat's fitting by name or id; the caller has made sure that the boat may be seen. */
export async function readFitting(
  db: Db,
  organisationId: string,
  boatId: string,
  fitting: string,
): Promise<FittingView | undefined> {
  const [row] = await fittingsWithBoat(db, sql`null`).where(
    and(ofBoat(organisationId, boatId), meantBy(fittings, fitting)),
  )
  return row && toView(row)
}

export async function insertFitting(
  tx: Db,
  organisationId: string,
  boatId: string,
  values: FittingValues,
): Promise<string> {
  const [row] = await tx
    .insert(fittings)
    .values({ ...values, organisationId, boatId })
    .returning({ id: fittings.id })
  return row!.id
}

export async function updateFitting(
  tx: Db,
  organisationId: string,
  id: string,
  values: Change<FittingValues>,
): Promise<void> {
  if (changesNothing(values)) return
  await tx.update(fittings).set(values).where(thisFitting(organisationId, id))
}

/** Removes a fitting with the potentials read on it; the audit trail keeps them. */
export async function deleteFitting(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx.delete(fittings).where(thisFitting(organisationId, id))
}

export function lockFitting(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, fittings, organisationId, id)
}

function thisFitting(organisationId: string, id: string): SQL | undefined {
  return and(eq(fittings.organisationId, organisationId), eq(fittings.id, id))
}

function ofBoat(organisationId: string, boatId: string): SQL | undefined {
  return and(eq(fittings.organisationId, organisationId), eq(fittings.boatId, boatId))
}

function fittingsWithBoat(db: Db, cursorValue: SQL<string | null>) {
  return db
    .select({
      id: fittings.id,
      boat: boats.name,
      name: fittings.name,
      metal: fittings.metal,
      areaCm2: fittings.areaCm2,
      coated: fittings.coated,
      bonded: fittings.bonded,
      createdAt: fittings.createdAt,
      version: fittings.version,
      cursorValue,
    })
    .from(fittings)
    .innerJoin(boats, and(eq(boats.organisationId, fittings.organisationId), eq(boats.id, fittings.boatId)))
    .$dynamic()
}

type FittingRow = Awaited<ReturnType<typeof fittingsWithBoat>>[number]

function toView({ cursorValue: _, ...row }: FittingRow): FittingView {
  return { ...row, createdAt: utcInstant(row.createdAt) }
}
