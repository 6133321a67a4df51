import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { BoatParams } from '../../contract/boats.js'
import { PositionChange, PositionPage, PositionParams, PositionQuery, PositionView } from '../../contract/positions.js'
import type { PositionService } from '../../services/fleet/positions.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendTagged } from '../etag.js'

const tags = ['Boats']

/** Positions are made with the anodes fitted there; only their threshold is set here. */
export const positionRoutes: FastifyPluginAsyncZod<{ positions: PositionService }> = async (app, { positions }) => {
  app.get(
    '/v1/boats/:boat/positions',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: "List a boat's positions",
        params: BoatParams,
        querystring: PositionQuery,
        response: { 200: PositionPage },
      },
    },
    (request) => positions.page(request.actor, request.params.boat, request.query),
  )

  app.get(
    '/v1/boats/:boat/positions/:position',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'Read a position', params: PositionParams, response: { 200: PositionView } },
    },
    async (request, reply) => {
      const { boat, position } = request.params
      return sendTagged(reply, await positions.read(request.actor, boat, position))
    },
  )

  app.patch(
    '/v1/boats/:boat/positions/:position',
    {
      preHandler: requires('fleet:write'),
      schema: {
        tags,
        summary: "Set a position's wasting threshold",
        params: PositionParams,
        headers: IfMatch,
        body: PositionChange,
        response: { 200: PositionView },
      },
    },
    async (request, reply) => {
      const { boat, position } = request.params
      const version = requireMatch(request)
      return sendTagged(reply, await positions.change(request.actor, boat, position, version, request.body))
    },
  )
}
