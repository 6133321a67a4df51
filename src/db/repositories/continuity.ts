import { and, eq, gte, lt, type SQL, sql } from 'drizzle-orm'
import type { ContinuityQuery, ContinuityView } from '../../contract/continuity.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../client.js'
import { anodes, boats, continuityReadings, fittings } from '../schema/index.js'
import { instantKey, keysetOf, numberKey } from './paging.js'
import { meantBy, utcInstant } from './references.js'
import { type Change, changesNothing, lockVersion } from './versions.js'
import { type Scope, visibleBoats } from './visibility.js'

type ReadingValues = Omit<
  typeof continuityReadings.$inferInsert,
  'organisationId' | 'id' | 'createdAt' | 'version' | 'boatId'
>

const SORT_KEYS = {
  measuredAt: instantKey(continuityReadings.measuredAt),
  ohms: numberKey(continuityReadings.ohms),
  createdAt: instantKey(continuityReadings.createdAt),
}

/** One page of the continuity readings of the boats that the scope may see. */
export async function pageOfContinuity(db: Db, scope: Scope, query: ContinuityQuery): Promise<Page<ContinuityView>> {
  const keyset = keysetOf('continuity', query, SORT_KEYS, continuityReadings.id)
  const rows = await readingsWithBoat(db, keyset.cursorValue)
    .where(and(visibleBoats(scope), ...filtersOf(query), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toView)
}

export async function readContinuity(db: Db, scope: Scope, id: string): Promise<ContinuityView | undefined> {
  const [row] = await readingsWithBoat(db, sql`null`).where(and(visibleBoats(scope), eq(continuityReadings.id, id)))
  return row && toView(row)
}

/** The boat that a reading was taken on, if the scope may see it. */
export async function boatOfContinuity(
  db: Db,
  scope: Scope,
  id: string,
): Promise<{ id: string; name: string } | undefined> {
  const [row] = await db
    .select({ id: boats.id, name: boats.name })
    .from(continuityReadings)
    .innerJoin(boats, boatOfReading())
    .where(and(visibleBoats(scope), eq(continuityReadings.id, id)))
  return row
}

/** Whether a fitting or an anode of the boat has that name. */
export async function isPartOfBoat(tx: Db, organisationId: string, boatId: string, name: string): Promise<boolean> {
  for (const table of [fittings, anodes]) {
    const found = await tx
      .select({ id: table.id })
      .from(table)
      .where(and(eq(table.organisationId, organisationId), eq(table.boatId, boatId), eq(table.name, name)))
    if (found.length > 0) return true
  }
  return false
}

export async function insertContinuity(
  tx: Db,
  organisationId: string,
  boatId: string,
  values: ReadingValues,
): Promise<string> {
  const [row] = await tx
    .insert(continuityReadings)
    .values({ ...values, organisationId, boatId })
    .returning({ id: continuityReadings.id })
  return row!.id
}

export async function updateContinuity(
  tx: Db,
  organisationId: string,
  id: string,
  values: Change<ReadingValues>,
): Promise<void> {
  if (changesNothing(values)) return
  await tx.update(continuityReadings).set(values).where(thisReading(organisationId, id))
}

export async function deleteContinuity(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx.delete(continuityReadings).where(thisReading(organisationId, id))
}

export function lockContinuity(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, continuityReadings, organisationId, id)
}

function thisReading(organisationId: string, id: string): SQL | undefined {
  return and(eq(continuityReadings.organisationId, organisationId), eq(continuityReadings.id, id))
}

function boatOfReading(): SQL | undefined {
  return and(eq(boats.organisationId, continuityReadings.organisationId), eq(boats.id, continuityReadings.boatId))
}

function readingsWithBoat(db: Db, cursorValue: SQL<string | null>) {
  return db
    .select({
      id: continuityReadings.id,
      boat: boats.name,
      measuredAt: continuityReadings.measuredAt,
      from: continuityReadings.fromName,
      to: continuityReadings.toName,
      ohms: continuityReadings.ohms,
      createdAt: continuityReadings.createdAt,
      version: continuityReadings.version,
      cursorValue,
    })
    .from(continuityReadings)
    .innerJoin(boats, boatOfReading())
    .$dynamic()
}

function filtersOf(query: ContinuityQuery): (SQL | undefined)[] {
  return [
    query.boat === undefined ? undefined : meantBy(boats, query.boat),
    query.from === undefined ? undefined : gte(continuityReadings.measuredAt, startOfDay(query.from)),
    query.to === undefined ? undefined : lt(continuityReadings.measuredAt, startOfDayAfter(query.to)),
  ]
}

const startOfDay = (day: string) => `${day}T00:00:00Z`
const startOfDayAfter = (day: string) => sql`${startOfDay(day)}::timestamptz + interval '24 hours'`

type ReadingRow = Awaited<ReturnType<typeof readingsWithBoat>>[number]

function toView({ cursorValue: _, ...row }: ReadingRow): ContinuityView {
  return { ...row, measuredAt: utcInstant(row.measuredAt), createdAt: utcInstant(row.createdAt) }
}
