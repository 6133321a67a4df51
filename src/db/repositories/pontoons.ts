import { and, asc, eq, gt, isNull, lte, or } from 'drizzle-orm'
import type { Db } from '../client.js'
import { berths, boats, drawnBerths, pontoons, stays } from '../schema/index.js'
import { isDrawnThere } from './pontoon-drawing.js'

/** A berth as the plan of the pontoons has it. */
export type BerthOnPlan = Awaited<ReturnType<typeof berthsOnPlan>>[number]

/** All berths with the pontoons they are on. */
export async function berthsOnPlan(db: Db, organisationId: string) {
  return db
    .select({
      berth: berths.name,
      pontoon: pontoons.name,
      water: berths.water,
      salinityPsu: berths.salinityPsu,
      shorePower: berths.shorePower,
      planX: berths.planX,
      planY: berths.planY,
      side: drawnBerths.side,
      place: drawnBerths.place,
    })
    .from(berths)
    .leftJoin(pontoons, and(eq(pontoons.organisationId, berths.organisationId), eq(pontoons.id, berths.pontoonId)))
    .leftJoin(drawnBerths, isDrawnThere())
    .where(eq(berths.organisationId, organisationId))
    .orderBy(asc(berths.name))
}

/** Which boat lies where on a day. */
export async function boatsAtBerths(
  db: Db,
  organisationId: string,
  day: string,
): Promise<{ boat: string; berth: string }[]> {
  const coversDay = and(lte(stays.fromOn, day), or(isNull(stays.toOn), gt(stays.toOn, day)))
  return db
    .select({ boat: boats.name, berth: berths.name })
    .from(stays)
    .innerJoin(boats, and(eq(boats.organisationId, stays.organisationId), eq(boats.id, stays.boatId)))
    .innerJoin(berths, and(eq(berths.organisationId, stays.organisationId), eq(berths.id, stays.berthId)))
    .where(and(eq(stays.organisationId, organisationId), coversDay))
    .orderBy(asc(boats.name))
}
