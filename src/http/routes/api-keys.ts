import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import {
  ApiKeyCreated,
  ApiKeyPage,
  ApiKeyQuery,
  ApiKeyRequest,
  ApiKeyView,
  SecretRenewal,
} from '../../contract/access.js'
import type { ApiKeyService } from '../../services/access/api-keys.js'
import { requires } from '../auth/requires.js'
import { etagOf, IfMatch, requireMatch, sendTagged } from '../etag.js'

const tags = ['Organisation']
const params = z.object({ id: z.uuid() })
const preHandler = requires('organisation:manage')

/** Keys of programs. */
export const apiKeyRoutes: FastifyPluginAsyncZod<{ apiKeys: ApiKeyService }> = async (app, { apiKeys }) => {
  app.get(
    '/v1/api-keys',
    { preHandler, schema: { tags, summary: 'All API keys', querystring: ApiKeyQuery, response: { 200: ApiKeyPage } } },
    (request) => apiKeys.page(request.actor, request.query),
  )

  app.post(
    '/v1/api-keys',
    {
      preHandler,
      config: { givenOnce: ['secret'] },
      schema: {
        tags,
        summary: 'Make an API key',
        description:
          'The secret is in this answer and nowhere else; sent again with its Idempotency-Key it comes without.',
        body: ApiKeyRequest,
        response: { 201: ApiKeyCreated },
      },
    },
    async (request, reply) => {
      const key = await apiKeys.create(request.actor, request.body)
      return reply.code(201).header('etag', etagOf(key)).header('location', `/v1/api-keys/${key.id}`).send(key)
    },
  )

  app.get(
    '/v1/api-keys/:id',
    { preHandler, schema: { tags, summary: 'One API key', params, response: { 200: ApiKeyView } } },
    async (request, reply) => {
      const key = await apiKeys.get(request.actor, request.params.id)
      return reply.header('etag', etagOf(key)).send(key)
    },
  )

  app.post(
    '/v1/api-keys/:id/secret',
    {
      preHandler,
      config: { givenOnce: ['secret'] },
      schema: {
        tags,
        summary: 'Make a new secret for an API key',
        description:
          'The secret before it opens for `overlapHours` more (24 unless given), so that the program can change over at any time; the list shows both.',
        params,
        headers: IfMatch,
        body: SecretRenewal,
        response: { 200: ApiKeyCreated },
      },
    },
    async (request, reply) =>
      sendTagged(reply, await apiKeys.renew(request.actor, request.params.id, requireMatch(request), request.body)),
  )

  app.delete(
    '/v1/api-keys/:id',
    { preHandler, schema: { tags, summary: 'Revoke an API key', params, response: { 204: z.null() } } },
    async (request, reply) => {
      await apiKeys.revoke(request.actor, request.params.id, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
}
