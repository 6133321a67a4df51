import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { BoatParams } from '../../contract/boats.js'
import {
  FittingChange,
  FittingPage,
  FittingParams,
  FittingQuery,
  FittingView,
  NewFitting,
} from '../../contract/fittings.js'
import { MetalList } from '../../contract/metals.js'
import type { FittingService } from '../../services/fleet/fittings.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendCreated, sendTagged } from '../etag.js'

const tags = ['Fittings']

export const fittingRoutes: FastifyPluginAsyncZod<{ fittings: FittingService }> = async (app, { fittings }) => {
  app.get(
    '/v1/reference/metals',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'Metals a fitting can be of: the galvanic series', response: { 200: MetalList } },
    },
    async () => fittings.metals(),
  )

  app.get(
    '/v1/boats/:boat/fittings',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: "List a boat's fittings",
        params: BoatParams,
        querystring: FittingQuery,
        response: { 200: FittingPage },
      },
    },
    (request) => fittings.page(request.actor, request.params.boat, request.query),
  )

  app.post(
    '/v1/boats/:boat/fittings',
    {
      preHandler: requires('fleet:write'),
      schema: { tags, summary: 'Add a fitting', params: BoatParams, body: NewFitting, response: { 201: FittingView } },
    },
    async (request, reply) => {
      const { boat } = request.params
      const fitting = await fittings.create(request.actor, boat, request.body)
      return sendCreated(reply, `/v1/boats/${encodeURIComponent(boat)}/fittings/${fitting.id}`, fitting)
    },
  )

  app.get(
    '/v1/boats/:boat/fittings/:fitting',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'Read a fitting', params: FittingParams, response: { 200: FittingView } },
    },
    async (request, reply) => {
      const { boat, fitting } = request.params
      return sendTagged(reply, await fittings.read(request.actor, boat, fitting))
    },
  )

  app.patch(
    '/v1/boats/:boat/fittings/:fitting',
    {
      preHandler: requires('fleet:write'),
      schema: {
        tags,
        summary: 'Change a fitting',
        params: FittingParams,
        headers: IfMatch,
        body: FittingChange,
        response: { 200: FittingView },
      },
    },
    async (request, reply) => {
      const { boat, fitting } = request.params
      const version = requireMatch(request)
      return sendTagged(reply, await fittings.change(request.actor, boat, fitting, version, request.body))
    },
  )

  app.delete(
    '/v1/boats/:boat/fittings/:fitting',
    {
      preHandler: requires('fleet:write'),
      schema: {
        tags,
        summary: 'Remove a fitting',
        description: 'With the potentials read on it. The audit trail keeps each row.',
        params: FittingParams,
        headers: IfMatch,
        response: { 204: z.null().describe('Removed') },
      },
    },
    async (request, reply) => {
      const { boat, fitting } = request.params
      await fittings.remove(request.actor, boat, fitting, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
}
