import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { ModelView } from '../../contract/model.js'
import type { ModelService } from '../../services/model/model-service.js'
import { requires } from '../auth/requires.js'

/** The model behind the forecasts. */
export const modelRoutes: FastifyPluginAsyncZod<{ model: ModelService }> = async (app, { model }) => {
  app.get(
    '/v1/model',
    {
      preHandler: requires('model:read'),
      schema: {
        tags: ['Forecasts'],
        summary: 'The fitted model: variance components, effects, calibration of past forecasts',
        response: { 200: ModelView },
      },
    },
    (request) => model.read(request.actor),
  )
}
