import { and, asc, eq, gte, isNull } from 'drizzle-orm'
import type { Db } from '../client.js'
import { anodes, boats, haulOuts, positions } from '../schema/index.js'
import { type Scope, visibleBoats } from './visibility.js'

/** An anode that may come due. */
export interface AnodeInPlace {
  readonly id: string
  readonly boat: string
  readonly anode: string
  readonly position: string
}

/** The anodes in place on the boats that the scope may see. */
export function anodesInPlace(db: Db, scope: Scope): Promise<AnodeInPlace[]> {
  return db
    .select({ id: anodes.id, boat: boats.name, anode: anodes.name, position: positions.label })
    .from(anodes)
    .innerJoin(boats, and(eq(boats.organisationId, anodes.organisationId), eq(boats.id, anodes.boatId)))
    .innerJoin(positions, and(eq(positions.organisationId, anodes.organisationId), eq(positions.id, anodes.positionId)))
    .where(and(visibleBoats(scope), isNull(anodes.removedOn)))
    .orderBy(asc(boats.name), asc(anodes.name))
}

export interface PlannedLift {
  readonly id: string
  readonly boat: string
  readonly on: string
  readonly relaunchedOn: string | null
}

/** The lifts in the yard's calendar from a day on, of the boats that the scope may see. */
export function plannedLifts(db: Db, scope: Scope, from: string): Promise<PlannedLift[]> {
  return db
    .select({ id: haulOuts.id, boat: boats.name, on: haulOuts.hauledOn, relaunchedOn: haulOuts.relaunchedOn })
    .from(haulOuts)
    .innerJoin(boats, and(eq(boats.organisationId, haulOuts.organisationId), eq(boats.id, haulOuts.boatId)))
    .where(and(visibleBoats(scope), eq(haulOuts.planned, true), gte(haulOuts.hauledOn, from)))
    .orderBy(asc(haulOuts.hauledOn), asc(boats.name))
}
