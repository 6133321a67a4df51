import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { SessionList, SessionParams, SessionsToEnd } from '../../contract/access.js'
import type { SessionService } from '../../services/access/sessions.js'
import { personOf } from '../auth/identity.js'
import { requires } from '../auth/requires.js'

const tags = ['Sign-in']
const preHandler = requires('self:read')

/** Where a person is signed in, and the way out of there. */
export const sessionRoutes: FastifyPluginAsyncZod<{ sessions: SessionService }> = async (app, { sessions }) => {
  app.get(
    '/v1/me/sessions',
    {
      preHandler,
      schema: { tags, summary: 'Where whoever asks is signed in', response: { 200: SessionList } },
    },
    (request) => sessions.list(personOf(request)),
  )

  app.delete(
    '/v1/me/sessions/:session',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Sign out one device',
        description: 'It is refused from its next request on.',
        params: SessionParams,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      await sessions.end(personOf(request), request.params.session)
      return reply.code(204).send(null)
    },
  )

  app.post(
    '/v1/me/sessions/end',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Sign out everywhere, or everywhere else',
        body: SessionsToEnd,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      await sessions.endMany(personOf(request), request.body)
      return reply.code(204).send(null)
    },
  )
}
