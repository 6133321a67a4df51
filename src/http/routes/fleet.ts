import type { FastifyInstance } from 'fastify'
import type { FleetServices } from '../../services/fleet/build-fleet.js'
import { berthRoutes } from './berths.js'
import { boatRoutes } from './boats.js'
import { continuityRoutes } from './continuity.js'
import { fittingRoutes } from './fittings.js'
import { positionRoutes } from './positions.js'
import { potentialRoutes } from './potentials.js'
import { stayRoutes } from './stays.js'

/** The routes of a fleet's standing data and readings. */
export async function registerFleet(app: FastifyInstance, fleet: FleetServices): Promise<void> {
  await app.register(boatRoutes, { boats: fleet.boats })
  await app.register(berthRoutes, { berths: fleet.berths })
  await app.register(stayRoutes, { stays: fleet.stays })
  await app.register(fittingRoutes, { fittings: fleet.fittings })
  await app.register(positionRoutes, { positions: fleet.positions })
  await app.register(potentialRoutes, { potentials: fleet.potentials })
  await app.register(continuityRoutes, { continuity: fleet.continuity })
}
