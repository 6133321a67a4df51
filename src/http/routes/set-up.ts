import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { SetUpDone, SetUpRequest } from '../../contract/organisations.js'
import type { AttemptLimit, Attempts } from '../../services/access/attempts.js'
import type { SetUpService } from '../../services/access/set-up.js'
import { limitAttempts } from '../auth/limit-attempts.js'

/** Whoever has the link uses it once. */
const SET_UPS: AttemptLimit = { what: 'set-up', max: 20, withinMs: 15 * 60_000 }

/** The first person's way in. */
export const setUpRoutes: FastifyPluginAsyncZod<{ setUp: SetUpService; attempts: Attempts | undefined }> = async (
  app,
  { setUp, attempts },
) => {
  app.post(
    '/v1/set-up',
    {
      preHandler: limitAttempts(attempts, SET_UPS),
      schema: {
        tags: ['Sign-in'],
        summary: 'Make the first organisation with the link of the first start',
        description: 'The link works once. The person named becomes administrator and is sent a link to sign in.',
        body: SetUpRequest,
        response: { 201: SetUpDone },
      },
    },
    async (request, reply) => reply.code(201).send(await setUp.redeem(request.body)),
  )
}
