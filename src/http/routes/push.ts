import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { NewPushSubscription, PushEndpoint, PushKey, PushOutcomeView, PushTrial } from '../../contract/push.js'
import type { PushService } from '../../services/push/push-service.js'
import { personOf } from '../auth/identity.js'
import { requires } from '../auth/requires.js'

const tags = ['Notifications']
const preHandler = requires('self:read')

/** Notifications on the devices of whoever asks. */
export const pushRoutes: FastifyPluginAsyncZod<{ push: PushService }> = async (app, { push }) => {
  app.get(
    '/v1/push/key',
    {
      preHandler,
      schema: { tags, summary: 'The key that a browser subscribes with', response: { 200: PushKey } },
    },
    async () => ({ publicKey: await push.publicKey() }),
  )
  app.post(
    '/v1/me/push-subscriptions',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Switch notifications on in this browser',
        body: NewPushSubscription,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      await push.subscribe(personOf(request), request.body)
      return reply.code(204).send(null)
    },
  )
  app.post(
    '/v1/me/push-subscriptions/end',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Switch notifications off in a browser',
        body: PushEndpoint,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      await push.unsubscribe(personOf(request), request.body.endpoint)
      return reply.code(204).send(null)
    },
  )
  app.post(
    '/v1/me/push-subscriptions/trial',
    {
      preHandler,
      schema: { tags, summary: 'Show a notification on trial', body: PushTrial, response: { 200: PushOutcomeView } },
    },
    (request) => push.sendTrial(personOf(request), request.body.endpoint, request.body.language),
  )
}
