import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { BoatParams } from '../../contract/boats.js'
import {
  ContinuityChange,
  ContinuityOfBoatQuery,
  ContinuityPage,
  ContinuityParams,
  ContinuityQuery,
  ContinuityView,
  NewContinuityReading,
} from '../../contract/continuity.js'
import type { ContinuityService } from '../../services/fleet/continuity.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendCreated, sendTagged } from '../etag.js'

const tags = ['Continuity']

export const continuityRoutes: FastifyPluginAsyncZod<{ continuity: ContinuityService }> = async (
  app,
  { continuity },
) => {
  app.get(
    '/v1/continuity',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: 'List continuity readings',
        querystring: ContinuityQuery,
        response: { 200: ContinuityPage },
      },
    },
    (request) => continuity.page(request.actor, request.query),
  )

  app.get(
    '/v1/boats/:boat/continuity',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: "List a boat's continuity readings",
        params: BoatParams,
        querystring: ContinuityOfBoatQuery,
        response: { 200: ContinuityPage },
      },
    },
    (request) => continuity.pageOfBoat(request.actor, request.params.boat, request.query),
  )

  app.post(
    '/v1/boats/:boat/continuity',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Log a continuity reading',
        params: BoatParams,
        body: NewContinuityReading,
        response: { 201: ContinuityView },
      },
    },
    async (request, reply) => {
      const reading = await continuity.create(request.actor, request.params.boat, request.body)
      return sendCreated(reply, `/v1/continuity/${reading.id}`, reading)
    },
  )

  app.get(
    '/v1/continuity/:reading',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: 'Read a continuity reading',
        params: ContinuityParams,
        response: { 200: ContinuityView },
      },
    },
    async (request, reply) => sendTagged(reply, await continuity.read(request.actor, request.params.reading)),
  )

  app.patch(
    '/v1/continuity/:reading',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Change a continuity reading',
        params: ContinuityParams,
        headers: IfMatch,
        body: ContinuityChange,
        response: { 200: ContinuityView },
      },
    },
    async (request, reply) => {
      const version = requireMatch(request)
      return sendTagged(reply, await continuity.change(request.actor, request.params.reading, version, request.body))
    },
  )

  app.delete(
    '/v1/continuity/:reading',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Remove a continuity reading',
        params: ContinuityParams,
        headers: IfMatch,
        response: { 204: z.null().describe('Removed') },
      },
    },
    async (request, reply) => {
      await continuity.remove(request.actor, request.params.reading, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
}
