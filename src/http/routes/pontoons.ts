import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { PontoonPlan } from '../../contract/pontoons.js'
import type { PontoonPlanService } from '../../services/findings/pontoon-plan.js'
import { requires } from '../auth/requires.js'

export const pontoonRoutes: FastifyPluginAsyncZod<{ pontoonPlan: PontoonPlanService }> = async (
  app,
  { pontoonPlan },
) => {
  app.get(
    '/v1/pontoons/plan',
    {
      preHandler: requires('model:read'),
      schema: {
        tags: ['Findings'],
        summary: 'The berths by pontoon, with their effects on the rate and their findings',
        response: { 200: PontoonPlan },
      },
    },
    (request) => pontoonPlan.read(request.actor),
  )
}
