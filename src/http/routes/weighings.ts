import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { AnodeParams } from '../../contract/anodes.js'
import {
  CorrectedWeighing,
  NewWeighing,
  WeighingCorrection,
  WeighingDeletion,
  WeighingHistory,
  WeighingOfAnodeQuery,
  WeighingPage,
  WeighingParams,
  WeighingQuery,
  WeighingView,
} from '../../contract/weighings.js'
import type { WeighingService } from '../../services/weighings/weighings.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendCreated, sendTagged } from '../etag.js'

const tags = ['Weighings']

export const weighingRoutes: FastifyPluginAsyncZod<{ weighings: WeighingService }> = async (app, { weighings }) => {
  app.get(
    '/v1/weighings',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'List weighings', querystring: WeighingQuery, response: { 200: WeighingPage } },
    },
    (request) => weighings.page(request.actor, request.query),
  )

  app.get(
    '/v1/boats/:boat/anodes/:anode/weighings',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: "List an anode's weighings",
        params: AnodeParams,
        querystring: WeighingOfAnodeQuery,
        response: { 200: WeighingPage },
      },
    },
    (request) => weighings.pageOfAnode(request.actor, request.params.boat, request.params.anode, request.query),
  )

  app.post(
    '/v1/boats/:boat/anodes/:anode/weighings',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Log a weighing',
        description:
          'Outside a haul-out: a look by a diver, one that was forgotten. What is doubtful is refused with a code in `errors`; after a second look send the code in `confirm`.',
        params: AnodeParams,
        body: NewWeighing,
        response: { 201: WeighingView },
      },
    },
    async (request, reply) => {
      const { boat, anode } = request.params
      const weighing = await weighings.create(request.actor, boat, anode, request.body)
      return sendCreated(reply, `/v1/weighings/${weighing.id}`, weighing)
    },
  )

  app.get(
    '/v1/weighings/:weighing',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'Read a weighing', params: WeighingParams, response: { 200: WeighingView } },
    },
    async (request, reply) => sendTagged(reply, await weighings.read(request.actor, request.params.weighing)),
  )

  app.get(
    '/v1/weighings/:weighing/history',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: "Read a weighing's history",
        description: 'Who logged it, who corrected it, from what to what, and why; for those who may correct.',
        params: WeighingParams,
        response: { 200: WeighingHistory },
      },
    },
    (request) => weighings.history(request.actor, request.params.weighing),
  )

  app.patch(
    '/v1/weighings/:weighing',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Correct a weighing',
        params: WeighingParams,
        headers: IfMatch,
        body: WeighingCorrection,
        response: { 200: CorrectedWeighing },
      },
    },
    async (request, reply) => {
      const version = requireMatch(request)
      return sendTagged(reply, await weighings.correct(request.actor, request.params.weighing, version, request.body))
    },
  )

  app.delete(
    '/v1/weighings/:weighing',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Delete a weighing that should not be there',
        params: WeighingParams,
        querystring: WeighingDeletion,
        headers: IfMatch,
        response: { 204: z.null().describe('Deleted') },
      },
    },
    async (request, reply) => {
      const version = requireMatch(request)
      await weighings.delete(request.actor, request.params.weighing, version, request.query.reason)
      return reply.code(204).send(null)
    },
  )
}
