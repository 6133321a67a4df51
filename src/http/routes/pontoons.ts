import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { NewPontoonDrawing, PontoonDrawing } from '../../contract/pontoon-drawing.js'
import { PontoonPlan } from '../../contract/pontoons.js'
import type { PontoonPlanService } from '../../services/findings/pontoon-plan.js'
import type { PontoonDrawingService } from '../../services/fleet/pontoon-drawing.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendTagged } from '../etag.js'

interface PontoonRouteServices {
  readonly pontoonPlan: PontoonPlanService
  readonly pontoonDrawing: PontoonDrawingService
}

export const pontoonRoutes: FastifyPluginAsyncZod<PontoonRouteServices> = async (
  app,
  { pontoonPlan, pontoonDrawing },
) => {
  app.get(
    '/v1/pontoons/plan',
    {
      preHandler: requires('model:read'),
      schema: {
        tags: ['Findings'],
        summary: 'The berths by pontoon, with their effects on the rate and their findings',
        response: { 200: PontoonPlan },
      },
    },
    (request) => pontoonPlan.read(request.actor),
  )

  app.get(
    '/v1/pontoons/drawing',
    {
      preHandler: requires('desk:read'),
      schema: { tags: ['Berths'], summary: 'The harbour as it is drawn', response: { 200: PontoonDrawing } },
    },
    async (request, reply) => sendTagged(reply, await pontoonDrawing.read(request.actor)),
  )

  app.put(
    '/v1/pontoons/drawing',
    {
      preHandler: requires('pontoons:draw'),
      schema: {
        tags: ['Berths'],
        summary: 'Draw the harbour: pontoons on a plan, berths on their sides',
        description: 'If-Match with the ETag of the drawing that was read. All of it is written, or nothing.',
        headers: IfMatch,
        body: NewPontoonDrawing,
        response: { 200: PontoonDrawing },
      },
    },
    async (request, reply) =>
      sendTagged(reply, await pontoonDrawing.replace(request.actor, requireMatch(request), request.body)),
  )
}
