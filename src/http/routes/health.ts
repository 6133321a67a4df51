import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import type { Readiness } from '../../services/access/readiness.js'
import { HttpProblem } from '../problem.js'

const Health = z.object({ status: z.literal('ok') }).meta({ id: 'Health' })

export const healthRoutes: FastifyPluginAsyncZod<{ readiness: Readiness }> = async (app, { readiness }) => {
  // Whoever watches the service asks often, and must not be refused for it.
  const config = { rateLimit: false }

  app.get(
    '/health/live',
    { config, schema: { tags: ['Service'], summary: 'Whether the process answers', response: { 200: Health } } },
    async () => ({ status: 'ok' as const }),
  )

  app.get(
    '/health/ready',
    {
      config,
      schema: {
        tags: ['Service'],
        summary: 'Whether migrations are done and the database answers',
        response: { 200: Health },
      },
    },
    async () => {
      if (!(await readiness.isReady())) throw new HttpProblem(503, 'the database does not answer')
      return { status: 'ok' as const }
    },
  )
}
