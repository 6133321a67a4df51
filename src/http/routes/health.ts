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
        summary: 'Whether migrations are done, and database and photo store answer',
        description: 'Each part is asked for two seconds at most; 503 names those that do not answer.',
        response: { 200: Health },
      },
    },
    async () => {
      const away = await readiness.away()
      if (away.length > 0) {
        throw new HttpProblem(503, `${away.join(' and ')} ${away.length === 1 ? 'does' : 'do'} not answer`, {
          members: { away },
        })
      }
      return { status: 'ok' as const }
    },
  )
}
