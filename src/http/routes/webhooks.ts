import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import {
  DeliveryDetail,
  DeliveryPage,
  DeliveryParams,
  DeliveryQuery,
  DeliveryView,
  NewWebhook,
  WebhookChange,
  WebhookPage,
  WebhookParams,
  WebhookQuery,
  WebhookView,
  WebhookWithSecret,
} from '../../contract/webhooks.js'
import type { WebhookService } from '../../services/webhooks/webhook-service.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendCreated, sendTagged } from '../etag.js'

const tags = ['Webhooks']
const preHandler = requires('organisation:manage')
/** In the answer and nowhere else. */
const config = { givenOnce: ['secret'] }

/** What other systems are told of an organisation, and the log of it. */
export const webhookRoutes: FastifyPluginAsyncZod<{ webhooks: WebhookService }> = async (app, { webhooks }) => {
  app.get(
    '/v1/webhooks',
    {
      preHandler,
      schema: { tags, summary: 'All webhooks', querystring: WebhookQuery, response: { 200: WebhookPage } },
    },
    (request) => webhooks.page(request.actor, request.query),
  )
  app.post(
    '/v1/webhooks',
    {
      preHandler,
      config,
      schema: {
        tags,
        summary: 'Have another system told',
        description:
          'The secret is in this answer and nowhere else; sent again with its Idempotency-Key it comes without.',
        body: NewWebhook,
        response: { 201: WebhookWithSecret },
      },
    },
    async (request, reply) => {
      const webhook = await webhooks.create(request.actor, request.body)
      return sendCreated(reply, `/v1/webhooks/${webhook.id}`, webhook)
    },
  )
  app.get(
    '/v1/webhooks/:webhook',
    { preHandler, schema: { tags, summary: 'One webhook', params: WebhookParams, response: { 200: WebhookView } } },
    async (request, reply) => sendTagged(reply, await webhooks.read(request.actor, request.params.webhook)),
  )
  app.patch(
    '/v1/webhooks/:webhook',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Change a webhook, or switch it off or on',
        params: WebhookParams,
        headers: IfMatch,
        body: WebhookChange,
        response: { 200: WebhookView },
      },
    },
    async (request, reply) => {
      const version = requireMatch(request)
      return sendTagged(reply, await webhooks.change(request.actor, request.params.webhook, version, request.body))
    },
  )
  app.delete(
    '/v1/webhooks/:webhook',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Delete a webhook with its log',
        params: WebhookParams,
        headers: IfMatch,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      await webhooks.delete(request.actor, request.params.webhook, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
  app.post(
    '/v1/webhooks/:webhook/secret',
    {
      preHandler,
      config,
      schema: {
        tags,
        summary: 'Make a new secret',
        description:
          'For 24 hours the secret before it signs too, so that the other system can change over at any time.',
        params: WebhookParams,
        headers: IfMatch,
        response: { 200: WebhookWithSecret },
      },
    },
    async (request, reply) =>
      sendTagged(reply, await webhooks.rotate(request.actor, request.params.webhook, requireMatch(request))),
  )
  app.post(
    '/v1/webhooks/:webhook/trial',
    {
      preHandler,
      schema: { tags, summary: 'Send a trial message', params: WebhookParams, response: { 202: DeliveryView } },
    },
    async (request, reply) => reply.code(202).send(await webhooks.sendTrial(request.actor, request.params.webhook)),
  )
  app.get(
    '/v1/webhooks/:webhook/deliveries',
    {
      preHandler,
      schema: {
        tags,
        summary: 'What was sent, and what was answered',
        description: 'Kept for 30 days.',
        params: WebhookParams,
        querystring: DeliveryQuery,
        response: { 200: DeliveryPage },
      },
    },
    (request) => webhooks.deliveries(request.actor, request.params.webhook, request.query),
  )
  app.get(
    '/v1/webhooks/:webhook/deliveries/:delivery',
    {
      preHandler,
      schema: { tags, summary: 'One delivery', params: DeliveryParams, response: { 200: DeliveryDetail } },
    },
    (request) => webhooks.delivery(request.actor, request.params.webhook, request.params.delivery),
  )
  app.post(
    '/v1/webhooks/:webhook/deliveries/:delivery/replay',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Send an event again',
        description: 'With the same webhook-id, and its tries begun anew.',
        params: DeliveryParams,
        response: { 202: DeliveryDetail },
      },
    },
    async (request, reply) => {
      const { webhook, delivery } = request.params
      return reply.code(202).send(await webhooks.replay(request.actor, webhook, delivery))
    },
  )
}
