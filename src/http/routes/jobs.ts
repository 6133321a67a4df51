import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { JobView } from '../../contract/jobs.js'
import type { FollowedJobs } from '../../services/jobs/followed-jobs.js'
import { requires } from '../auth/requires.js'

/** Work in the background. */
export const jobRoutes: FastifyPluginAsyncZod<{ jobs: FollowedJobs }> = async (app, { jobs }) => {
  app.get(
    '/v1/jobs/:id',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags: ['Jobs'],
        summary: 'How far a job is',
        params: z.object({ id: z.uuid() }),
        response: { 200: JobView },
      },
    },
    (request) => jobs.read(request.actor, request.params.id),
  )
}
