import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import {
  NewPlannedLifts,
  PlannedLifts,
  PlannedLiftsRemoved,
  PlannedLiftsToRemove,
} from '../../contract/planned-lifts.js'
import type { PlannedLiftService } from '../../services/haul-outs/planned-lifts.js'
import { requires } from '../auth/requires.js'

const tags = ['Haul-outs']
const preHandler = requires('lift:write')

/** A whole plan of lifts into the calendar, and out again. */
export const plannedLiftRoutes: FastifyPluginAsyncZod<{ plannedLifts: PlannedLiftService }> = async (
  app,
  { plannedLifts },
) => {
  app.post(
    '/v1/planned-lifts',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Put lifts into the calendar',
        description: 'All of them or none. A lift that is there already stays as it is.',
        body: NewPlannedLifts,
        response: { 200: PlannedLifts },
      },
    },
    (request) => plannedLifts.write(request.actor, request.body),
  )
  app.post(
    '/v1/planned-lifts/remove',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Take lifts out of the calendar',
        description: 'Those that are still as they were written; others stay, and are named.',
        body: PlannedLiftsToRemove,
        response: { 200: PlannedLiftsRemoved },
      },
    },
    (request) => plannedLifts.remove(request.actor, request.body),
  )
}
