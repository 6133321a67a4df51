import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { BoatChange, BoatPage, BoatParams, BoatQuery, BoatView, NewBoat } from '../../contract/boats.js'
import type { BoatService } from '../../services/fleet/boats.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendCreated, sendTagged } from '../etag.js'

const tags = ['Boats']

export const boatRoutes: FastifyPluginAsyncZod<{ boats: BoatService }> = async (app, { boats }) => {
  app.get(
    '/v1/boats',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'List boats', querystring: BoatQuery, response: { 200: BoatPage } },
    },
    (request) => boats.page(request.actor, request.query),
  )

  app.post(
    '/v1/boats',
    {
      preHandler: requires('fleet:write'),
      schema: { tags, summary: 'Add a boat', body: NewBoat, response: { 201: BoatView } },
    },
    async (request, reply) => {
      const boat = await boats.create(request.actor, request.body)
      return sendCreated(reply, `/v1/boats/${boat.id}`, boat)
    },
  )

  app.get(
    '/v1/boats/:boat',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'Read a boat', params: BoatParams, response: { 200: BoatView } },
    },
    async (request, reply) => sendTagged(reply, await boats.read(request.actor, request.params.boat)),
  )

  app.patch(
    '/v1/boats/:boat',
    {
      preHandler: requires('fleet:write'),
      schema: {
        tags,
        summary: 'Change a boat',
        params: BoatParams,
        headers: IfMatch,
        body: BoatChange,
        response: { 200: BoatView },
      },
    },
    async (request, reply) => {
      const { boat } = request.params
      return sendTagged(reply, await boats.change(request.actor, boat, requireMatch(request), request.body))
    },
  )

  app.delete(
    '/v1/boats/:boat',
    {
      preHandler: requires('fleet:delete'),
      schema: {
        tags,
        summary: 'Remove a boat',
        description: 'With whatever was logged of it, for administrators and managers. The audit trail keeps each row.',
        params: BoatParams,
        headers: IfMatch,
        response: { 204: z.null().describe('Removed') },
      },
    },
    async (request, reply) => {
      await boats.remove(request.actor, request.params.boat, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
}
