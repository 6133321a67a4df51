import type { Db } from '../../db/client.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { BerthService } from './berths.js'
import { BoatService } from './boats.js'
import { ContinuityService } from './continuity.js'
import { FittingService } from './fittings.js'
import { PositionService } from './positions.js'
import { PotentialService } from './potentials.js'
import { StayService } from './stays.js'

export type FleetServices = ReturnType<typeof buildFleet>

/** The services of a fleet's standing data and readings. */
export function buildFleet(db: Db, refits: RefitRequests, today: () => string) {
  return {
    boats: new BoatService(db, refits, today),
    berths: new BerthService(db, refits),
    stays: new StayService(db, refits),
    fittings: new FittingService(db, refits),
    positions: new PositionService(db, refits),
    potentials: new PotentialService(db, today),
    continuity: new ContinuityService(db, today),
  }
}
