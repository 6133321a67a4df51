import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { BoatParams } from '../../contract/boats.js'
import { GalvanicAuditView } from '../../contract/galvanic.js'
import type { GalvanicService } from '../../services/galvanic/galvanic-service.js'
import { requires } from '../auth/requires.js'

/** What the underwater metals of a boat do to each other. */
export const galvanicRoutes: FastifyPluginAsyncZod<{ galvanic: GalvanicService }> = async (app, { galvanic }) => {
  app.get(
    '/v1/boats/:boat/galvanic-audit',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags: ['Boats'],
        summary: 'Galvanic audit of a boat: pairs of connected metals, protection, limits, questions',
        params: BoatParams,
        response: { 200: GalvanicAuditView },
      },
    },
    (request) => galvanic.audit(request.actor, request.params.boat),
  )
}
