import { and, eq, gte, lt, type SQL, sql } from 'drizzle-orm'
import type { Page } from '../../contract/paging.js'
import type { PotentialQuery, PotentialView } from '../../contract/potentials.js'
import type { Db } from '../client.js'
import { boats, fittings, potentials } from '../schema/index.js'
import { instantKey, keysetOf, numberKey } from './paging.js'
import { meantBy, utcInstant } from './references.js'
import { type Change, changesNothing, lockVersion } from './versions.js'
import { type Scope, visibleBoats } from './visibility.js'

type PotentialValues = Omit<
  typeof potentials.$inferInsert,
  'organisationId' | 'id' | 'createdAt' | 'version' | 'boatId'
>

const SORT_KEYS = {
  measuredAt: instantKey(potentials.measuredAt),
  volts: numberKey(potentials.volts),
  createdAt: instantKey(potentials.createdAt),
}

/** One page of the potentials of the boats that the scope may see. */
export async function pageOfPotentials(db: Db, scope: Scope, query: PotentialQuery): Promise<Page<PotentialView>> {
  const keyset = keysetOf('potentials', query, SORT_KEYS, potentials.id)
  const rows = await potentialsWithNames(db, keyset.cursorValue)
    .where(and(visibleBoats(scope), ...filtersOf(query), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toView)
}

export async function readPotential(db: Db, scope: Scope, id: string): Promise<PotentialView | undefined> {
  const [row] = await potentialsWithNames(db, sql`null`).where(and(visibleBoats(scope), eq(potentials.id, id)))
  return row && toView(row)
}

/** The boat that a potential was read on, if the scope may see it. */
export async function boatOfPotential(db: Db, scope: Scope, id: string): Promise<string | undefined> {
  const [row] = await db
    .select({ boatId: potentials.boatId })
    .from(potentials)
    .innerJoin(boats, and(eq(boats.organisationId, potentials.organisationId), eq(boats.id, potentials.boatId)))
    .where(and(visibleBoats(scope), eq(potentials.id, id)))
  return row?.boatId
}

export async function insertPotential(
  tx: Db,
  organisationId: string,
  boatId: string,
  values: PotentialValues,
): Promise<string> {
  const [row] = await tx
    .insert(potentials)
    .values({ ...values, organisationId, boatId })
    .returning({ id: potentials.id })
  return row!.id
}

export async function updatePotential(
  tx: Db,
  organisationId: string,
  id: string,
  values: Change<PotentialValues>,
): Promise<void> {
  if (changesNothing(values)) return
  await tx.update(potentials).set(values).where(thisPotential(organisationId, id))
}

export async function deletePotential(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx.delete(potentials).where(thisPotential(organisationId, id))
}

export function lockPotential(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, potentials, organisationId, id)
}

function thisPotential(organisationId: string, id: string): SQL | undefined {
  return and(eq(potentials.organisationId, organisationId), eq(potentials.id, id))
}

function potentialsWithNames(db: Db, cursorValue: SQL<string | null>) {
  return db
    .select({
      id: potentials.id,
      boat: boats.name,
      measuredAt: potentials.measuredAt,
      fitting: fittings.name,
      reference: potentials.reference,
      volts: potentials.volts,
      shorePower: potentials.shorePower,
      circuits: potentials.circuits,
      createdAt: potentials.createdAt,
      version: potentials.version,
      cursorValue,
    })
    .from(potentials)
    .innerJoin(boats, and(eq(boats.organisationId, potentials.organisationId), eq(boats.id, potentials.boatId)))
    .leftJoin(
      fittings,
      and(eq(fittings.organisationId, potentials.organisationId), eq(fittings.id, potentials.fittingId)),
    )
    .$dynamic()
}

function filtersOf(query: PotentialQuery): (SQL | undefined)[] {
  return [
    query.boat === undefined ? undefined : meantBy(boats, query.boat),
    query.fitting === undefined ? undefined : meantBy(fittings, query.fitting),
    query.from === undefined ? undefined : gte(potentials.measuredAt, startOfDay(query.from)),
    query.to === undefined ? undefined : lt(potentials.measuredAt, startOfDayAfter(query.to)),
  ]
}

const startOfDay = (day: string) => `${day}T00:00:00Z`
const startOfDayAfter = (day: string) => sql`${startOfDay(day)}::timestamptz + interval '24 hours'`

type PotentialRow = Awaited<ReturnType<typeof potentialsWithNames>>[number]

function toView({ cursorValue: _, ...row }: PotentialRow): PotentialView {
  return { ...row, measuredAt: utcInstant(row.measuredAt), createdAt: utcInstant(row.createdAt) }
}
