import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { SetUpDone, SetUpRequest } from '../../contract/organisations.js'
import type { SetUpService } from '../../services/access/set-up.js'

/** The first person's way in. */
export const setUpRoutes: FastifyPluginAsyncZod<{ setUp: SetUpService }> = async (app, { setUp }) => {
  app.post(
    '/v1/set-up',
    {
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
