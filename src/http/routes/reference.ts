import type { FastifyReply, FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { ReferenceIndex, ReferenceTable } from '../../contract/reference.js'
import { type ConstantAnswer, referenceIndex, referenceTableNamed } from '../../services/reference/reference-service.js'
import { requires } from '../auth/requires.js'
import { namesTag, UNCHANGED } from '../etag.js'

const tags = ['Reference']

const TableParams = z.object({
  table: z
    .string()
    .min(1)
    .max(100)
    .meta({ description: 'Name of the table', examples: ['galvanic-series'] }),
})

/** The published values that the engine computes with, row by row with their sources. */
export const referenceRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/v1/reference',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'All reference tables', response: { 200: ReferenceIndex, 304: UNCHANGED } },
    },
    (request, reply) => sendConstant(request, reply, referenceIndex()),
  )

  app.get(
    '/v1/reference/:table',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: 'A reference table: rows with status and source keys, and the sources',
        params: TableParams,
        response: { 200: ReferenceTable, 304: UNCHANGED },
      },
    },
    (request, reply) => sendConstant(request, reply, referenceTableNamed(request.params.table)),
  )
}

/** An hour: what is published changes with the program alone, and the tag tells whether it did. */
const KEPT = 'private, max-age=3600'

async function sendConstant<Body>(request: FastifyRequest, reply: FastifyReply, { body, etag }: ConstantAnswer<Body>) {
  reply.header('etag', etag).header('cache-control', KEPT).header('vary', 'authorization, cookie')
  if (namesTag(request.headers['if-none-match'], etag)) return reply.code(304).send()
  return reply.send(body)
}
