import { and, eq, type SQL, sql } from 'drizzle-orm'
import type { Page } from '../../contract/paging.js'
import type { PositionQuery, PositionView } from '../../contract/positions.js'
import type { Db } from '../client.js'
import { boats, positions } from '../schema/index.js'
import { instantKey, keysetOf, textKey } from './paging.js'
import { utcInstant } from './references.js'
import { lockVersion } from './versions.js'

const SORT_KEYS = { label: textKey(positions.label), createdAt: instantKey(positions.createdAt) }

/** One page of a boat's positions; the caller has made sure that the boat may be seen. */
export async function pageOfPositions(
  db: Db,
  organisationId: string,
  boatId: string,
  query: PositionQuery,
): Promise<Page<PositionView>> {
  const keyset = keysetOf('positions', query, SORT_KEYS, positions.id)
  const rows = await positionsWithBoat(db, keyset.cursorValue)
    .where(and(ofBoat(organisationId, boatId), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toView)
}

/** A boat's position by id; the caller has made sure that the boat may be seen. */
export async function readPosition(
  db: Db,
  organisationId: string,
  boatId: string,
  id: string,
): Promise<PositionView | undefined> {
  const [row] = await positionsWithBoat(db, sql`null`).where(and(ofBoat(organisationId, boatId), eq(positions.id, id)))
  return row && toView(row)
}

export async function setThreshold(
  tx: Db,
  organisationId: string,
  id: string,
  wastingThreshold: number | null,
): Promise<void> {
  await tx
    .update(positions)
    .set({ wastingThreshold })
    .where(and(eq(positions.organisationId, organisationId), eq(positions.id, id)))
}

export function lockPosition(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, positions, organisationId, id)
}

function ofBoat(organisationId: string, boatId: string): SQL | undefined {
  return and(eq(positions.organisationId, organisationId), eq(positions.boatId, boatId))
}

function positionsWithBoat(db: Db, cursorValue: SQL<string | null>) {
  return db
    .select({
      id: positions.id,
      boat: boats.name,
      label: positions.label,
      slot: positions.slot,
      kind: positions.kind,
      wastingThreshold: positions.wastingThreshold,
      createdAt: positions.createdAt,
      version: positions.version,
      cursorValue,
    })
    .from(positions)
    .innerJoin(boats, and(eq(boats.organisationId, positions.organisationId), eq(boats.id, positions.boatId)))
    .$dynamic()
}

type PositionRow = Awaited<ReturnType<typeof positionsWithBoat>>[number]

function toView({ cursorValue: _, ...row }: PositionRow): PositionView {
  return { ...row, createdAt: utcInstant(row.createdAt) }
}
