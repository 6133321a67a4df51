import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { StatusView } from '../../contract/status.js'
import type { StatusService } from '../../services/watching/status-service.js'
import { requires } from '../auth/requires.js'

/** How the service does, for administrators. */
export const statusRoutes: FastifyPluginAsyncZod<{ status: StatusService }> = async (app, { status }) => {
  app.get(
    '/v1/status',
    {
      preHandler: requires('status:read'),
      schema: {
        tags: ['Organisation'],
        summary: 'How the service does: what waits and failed, the last fit, how forecasts did, the installation',
        response: { 200: StatusView },
      },
    },
    (request) => status.read(request.actor),
  )
}
