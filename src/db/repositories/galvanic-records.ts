import { and, desc, eq, gt, isNotNull, isNull, lte, or } from 'drizzle-orm'
import type { PgColumn } from 'drizzle-orm/pg-core'
import type { Db } from '../client.js'
import { anodes, berths, boats, continuityReadings, fittings, potentials, stays } from '../schema/index.js'
import { utcInstant } from './references.js'

/** All that a galvanic audit rests on, as it lies in the tables. */
export type GalvanicRecords = Awaited<ReturnType<typeof readGalvanicRecords>>

/**
 * Reads one boat for its galvanic audit on a day: its metal, the anodes in place, readings, and the berth where it lies or lay
 * last. The caller has made sure that the boat may be seen.
 */
export async function readGalvanicRecords(tx: Db, organisationId: string, boatId: string, day: string) {
  const ofBoat = (table: { organisationId: PgColumn; boatId: PgColumn }) =>
    and(eq(table.organisationId, organisationId), eq(table.boatId, boatId))
  const [boat] = await tx
    .select({ hull: boats.hull })
    .from(boats)
    .where(and(eq(boats.organisationId, organisationId), eq(boats.id, boatId)))
  return {
    hull: boat?.hull ?? null,
    berth: await lastBerth(tx, organisationId, boatId, day),
    fittings: await tx.select().from(fittings).where(ofBoat(fittings)).orderBy(fittings.name),
    anodes: await anodesInPlace(tx, organisationId, boatId, day),
    continuity: (await tx.select().from(continuityReadings).where(ofBoat(continuityReadings))).map((row) => ({
      ...row,
      measuredAt: utcInstant(row.measuredAt),
    })),
    potentials: await readPotentials(tx, organisationId, boatId),
  }
}

async function lastBerth(tx: Db, organisationId: string, boatId: string, day: string) {
  const [row] = await tx
    .select({ name: berths.name, water: berths.water })
    .from(stays)
    .innerJoin(berths, and(eq(berths.organisationId, stays.organisationId), eq(berths.id, stays.berthId)))
    .where(
      and(
        eq(stays.organisationId, organisationId),
        eq(stays.boatId, boatId),
        isNotNull(stays.berthId),
        lte(stays.fromOn, day),
      ),
    )
    .orderBy(desc(stays.fromOn))
    .limit(1)
  return row ?? null
}

async function anodesInPlace(tx: Db, organisationId: string, boatId: string, day: string) {
  return tx
    .select({ name: anodes.name, alloy: anodes.alloy, bonded: anodes.bonded })
    .from(anodes)
    .where(
      and(
        eq(anodes.organisationId, organisationId),
        eq(anodes.boatId, boatId),
        or(isNull(anodes.fittedOn), lte(anodes.fittedOn, day)),
        or(isNull(anodes.removedOn), gt(anodes.removedOn, day)),
      ),
    )
    .orderBy(anodes.name)
}

async function readPotentials(tx: Db, organisationId: string, boatId: string) {
  const rows = await tx
    .select({
      measuredAt: potentials.measuredAt,
      fitting: fittings.name,
      reference: potentials.reference,
      volts: potentials.volts,
    })
    .from(potentials)
    .leftJoin(
      fittings,
      and(eq(fittings.organisationId, potentials.organisationId), eq(fittings.id, potentials.fittingId)),
    )
    .where(and(eq(potentials.organisationId, organisationId), eq(potentials.boatId, boatId)))
  return rows.map((row) => ({ ...row, measuredAt: utcInstant(row.measuredAt) }))
}
