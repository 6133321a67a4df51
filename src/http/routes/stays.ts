import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { BoatParams } from '../../contract/boats.js'
import {
  NewStay,
  StayChange,
  StayOfBoatQuery,
  StayPage,
  StayParams,
  StayQuery,
  StayView,
} from '../../contract/stays.js'
import type { StayService } from '../../services/fleet/stays.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendCreated, sendTagged } from '../etag.js'

const tags = ['Stays']

export const stayRoutes: FastifyPluginAsyncZod<{ stays: StayService }> = async (app, { stays }) => {
  app.get(
    '/v1/stays',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'List stays', querystring: StayQuery, response: { 200: StayPage } },
    },
    (request) => stays.page(request.actor, request.query),
  )

  app.get(
    '/v1/boats/:boat/stays',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: "List a boat's stays",
        params: BoatParams,
        querystring: StayOfBoatQuery,
        response: { 200: StayPage },
      },
    },
    (request) => stays.pageOfBoat(request.actor, request.params.boat, request.query),
  )

  app.post(
    '/v1/boats/:boat/stays',
    {
      preHandler: requires('fleet:write'),
      schema: { tags, summary: 'Add a stay', params: BoatParams, body: NewStay, response: { 201: StayView } },
    },
    async (request, reply) => {
      const stay = await stays.create(request.actor, request.params.boat, request.body)
      return sendCreated(reply, `/v1/stays/${stay.id}`, stay)
    },
  )

  app.get(
    '/v1/stays/:stay',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'Read a stay', params: StayParams, response: { 200: StayView } },
    },
    async (request, reply) => sendTagged(reply, await stays.read(request.actor, request.params.stay)),
  )

  app.patch(
    '/v1/stays/:stay',
    {
      preHandler: requires('fleet:write'),
      schema: {
        tags,
        summary: 'Change a stay',
        params: StayParams,
        headers: IfMatch,
        body: StayChange,
        response: { 200: StayView },
      },
    },
    async (request, reply) => {
      const version = requireMatch(request)
      return sendTagged(reply, await stays.change(request.actor, request.params.stay, version, request.body))
    },
  )

  app.delete(
    '/v1/stays/:stay',
    {
      preHandler: requires('fleet:write'),
      schema: {
        tags,
        summary: 'Remove a stay',
        params: StayParams,
        headers: IfMatch,
        response: { 204: z.null().describe('Removed') },
      },
    },
    async (request, reply) => {
      await stays.remove(request.actor, request.params.stay, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
}
