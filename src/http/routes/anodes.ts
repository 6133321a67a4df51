import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import {
  AnodeChange,
  AnodeOfBoatQuery,
  AnodePage,
  AnodeParams,
  AnodeQuery,
  AnodeRemoval,
  AnodeView,
  NewAnode,
} from '../../contract/anodes.js'
import { BoatParams } from '../../contract/boats.js'
import type { AnodeService } from '../../services/anodes/anodes.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendCreated, sendTagged } from '../etag.js'

const tags = ['Anodes']

export const anodeRoutes: FastifyPluginAsyncZod<{ anodes: AnodeService }> = async (app, { anodes }) => {
  app.get(
    '/v1/anodes',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: "List the fleet's anodes", querystring: AnodeQuery, response: { 200: AnodePage } },
    },
    (request) => anodes.page(request.actor, request.query),
  )

  app.get(
    '/v1/boats/:boat/anodes',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: "List a boat's anodes",
        description: 'Past and present; `inPlaceOn` gives those of one day.',
        params: BoatParams,
        querystring: AnodeOfBoatQuery,
        response: { 200: AnodePage },
      },
    },
    (request) => anodes.pageOfBoat(request.actor, request.params.boat, request.query),
  )

  app.post(
    '/v1/boats/:boat/anodes',
    {
      preHandler: requires('fleet:write'),
      schema: { tags, summary: 'Fit an anode', params: BoatParams, body: NewAnode, response: { 201: AnodeView } },
    },
    async (request, reply) => {
      const anode = await anodes.create(request.actor, request.params.boat, request.body)
      const boat = encodeURIComponent(request.params.boat)
      return sendCreated(reply, `/v1/boats/${boat}/anodes/${anode.id}`, anode)
    },
  )

  app.get(
    '/v1/boats/:boat/anodes/:anode',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'Read an anode', params: AnodeParams, response: { 200: AnodeView } },
    },
    async (request, reply) => {
      const { boat, anode } = request.params
      return sendTagged(reply, await anodes.read(request.actor, boat, anode))
    },
  )

  app.patch(
    '/v1/boats/:boat/anodes/:anode',
    {
      preHandler: requires('fleet:write'),
      schema: {
        tags,
        summary: 'Change an anode',
        params: AnodeParams,
        headers: IfMatch,
        body: AnodeChange,
        response: { 200: AnodeView },
      },
    },
    async (request, reply) => {
      const { boat, anode } = request.params
      return sendTagged(reply, await anodes.change(request.actor, boat, anode, requireMatch(request), request.body))
    },
  )

  app.post(
    '/v1/boats/:boat/anodes/:anode/removal',
    {
      preHandler: requires('fleet:write'),
      schema: {
        tags,
        summary: 'Record that an anode was taken off',
        description: 'Without another in its place; a haul-out logs a replacement.',
        params: AnodeParams,
        body: AnodeRemoval,
        response: { 200: AnodeView },
      },
    },
    async (request, reply) => {
      const { boat, anode } = request.params
      return sendTagged(reply, await anodes.recordRemoval(request.actor, boat, anode, request.body.removedOn))
    },
  )

  app.delete(
    '/v1/boats/:boat/anodes/:anode',
    {
      preHandler: requires('fleet:write'),
      schema: {
        tags,
        summary: 'Delete an anode added by mistake',
        description: 'One that was weighed stays: record its removal instead.',
        params: AnodeParams,
        headers: IfMatch,
        response: { 204: z.null().describe('Deleted') },
      },
    },
    async (request, reply) => {
      await anodes.delete(request.actor, request.params.boat, request.params.anode, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
}
