import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { BoatParams } from '../../contract/boats.js'
import {
  HaulOutChange,
  HaulOutDetail,
  HaulOutOfBoatQuery,
  HaulOutPage,
  HaulOutParams,
  HaulOutQuery,
  LoggedHaulOut,
  NewHaulOut,
} from '../../contract/haul-outs.js'
import type { HaulOutService } from '../../services/haul-outs/haul-outs.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendCreated, sendTagged } from '../etag.js'

const tags = ['Haul-outs']

export const haulOutRoutes: FastifyPluginAsyncZod<{ haulOuts: HaulOutService }> = async (app, { haulOuts }) => {
  app.get(
    '/v1/haul-outs',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'List haul-outs', querystring: HaulOutQuery, response: { 200: HaulOutPage } },
    },
    (request) => haulOuts.page(request.actor, request.query),
  )

  app.get(
    '/v1/boats/:boat/haul-outs',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: "List a boat's haul-outs",
        params: BoatParams,
        querystring: HaulOutOfBoatQuery,
        response: { 200: HaulOutPage },
      },
    },
    (request) => haulOuts.pageOfBoat(request.actor, request.params.boat, request.query),
  )

  app.post(
    '/v1/boats/:boat/haul-outs',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Log a haul-out, or plan one',
        description:
          'Hauled, each anode weighed or replaced, relaunched: all of it is kept, or nothing. A second log of the same boat and day adds its anodes, or the relaunch, to the first (200); where it says otherwise of the same anode it is refused (409), naming who logged it; where it says the same nothing changes. What is doubtful is refused with a code in `errors`; after a second look send the code in `confirm`.',
        params: BoatParams,
        body: NewHaulOut,
        response: { 200: LoggedHaulOut.describe('Added to what was logged that day'), 201: LoggedHaulOut },
      },
    },
    async (request, reply) => {
      const { haulOut, isNew } = await haulOuts.create(request.actor, request.params.boat, request.body)
      return isNew ? sendCreated(reply, `/v1/haul-outs/${haulOut.id}`, haulOut) : sendTagged(reply, haulOut)
    },
  )

  app.get(
    '/v1/haul-outs/:haulOut',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: 'Read a haul-out with its weighings',
        params: HaulOutParams,
        response: { 200: HaulOutDetail },
      },
    },
    async (request, reply) => sendTagged(reply, await haulOuts.read(request.actor, request.params.haulOut)),
  )

  app.patch(
    '/v1/haul-outs/:haulOut',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Change a haul-out',
        description: 'Stays are left as they are; a second log with `relaunch` moves them.',
        params: HaulOutParams,
        headers: IfMatch,
        body: HaulOutChange,
        response: { 200: HaulOutDetail },
      },
    },
    async (request, reply) => {
      const version = requireMatch(request)
      return sendTagged(reply, await haulOuts.change(request.actor, request.params.haulOut, version, request.body))
    },
  )

  app.delete(
    '/v1/haul-outs/:haulOut',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Delete a haul-out',
        description: 'A plan that fell through, or a mistake; one with weighings stays.',
        params: HaulOutParams,
        headers: IfMatch,
        response: { 204: z.null().describe('Deleted') },
      },
    },
    async (request, reply) => {
      await haulOuts.delete(request.actor, request.params.haulOut, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
}
