import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { BerthChange, BerthPage, BerthParams, BerthQuery, BerthView, NewBerth } from '../../contract/berths.js'
import type { BerthService } from '../../services/fleet/berths.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendCreated, sendTagged } from '../etag.js'

const tags = ['Berths']

export const berthRoutes: FastifyPluginAsyncZod<{ berths: BerthService }> = async (app, { berths }) => {
  app.get(
    '/v1/berths',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'List berths', querystring: BerthQuery, response: { 200: BerthPage } },
    },
    (request) => berths.page(request.actor, request.query),
  )

  app.post(
    '/v1/berths',
    {
      preHandler: requires('fleet:write'),
      schema: { tags, summary: 'Add a berth', body: NewBerth, response: { 201: BerthView } },
    },
    async (request, reply) => {
      const berth = await berths.create(request.actor, request.body)
      return sendCreated(reply, `/v1/berths/${berth.id}`, berth)
    },
  )

  app.get(
    '/v1/berths/:berth',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'Read a berth', params: BerthParams, response: { 200: BerthView } },
    },
    async (request, reply) => sendTagged(reply, await berths.read(request.actor, request.params.berth)),
  )

  app.patch(
    '/v1/berths/:berth',
    {
      preHandler: requires('fleet:write'),
      schema: {
        tags,
        summary: 'Change a berth',
        params: BerthParams,
        headers: IfMatch,
        body: BerthChange,
        response: { 200: BerthView },
      },
    },
    async (request, reply) => {
      const { berth } = request.params
      return sendTagged(reply, await berths.change(request.actor, berth, requireMatch(request), request.body))
    },
  )

  app.delete(
    '/v1/berths/:berth',
    {
      preHandler: requires('fleet:write'),
      schema: {
        tags,
        summary: 'Remove a berth where no boat has stayed',
        params: BerthParams,
        headers: IfMatch,
        response: { 204: z.null().describe('Removed') },
      },
    },
    async (request, reply) => {
      await berths.remove(request.actor, request.params.berth, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
}
