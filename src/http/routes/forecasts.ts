import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { DepletionView, ForecastPage, ForecastQuery, ModelView } from '../../contract/forecasts.js'
import { Day, NameOrId } from '../../contract/names.js'
import type { DepletionService } from '../../services/forecasts/depletion-service.js'
import type { ForecastService } from '../../services/forecasts/forecast-service.js'
import { requires } from '../auth/requires.js'

export interface ForecastRoutes {
  readonly forecasts: ForecastService
  readonly depletion: DepletionService
}

/** Replacement dates, what they are drawn from, and the model behind them. */
export const forecastRoutes: FastifyPluginAsyncZod<ForecastRoutes> = async (app, { forecasts, depletion }) => {
  app.get(
    '/v1/forecasts',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags: ['Forecasts'],
        summary: 'When each anode in place should be replaced',
        querystring: ForecastQuery,
        response: { 200: ForecastPage },
      },
    },
    (request) => forecasts.page(request.actor, request.query),
  )

  app.get(
    '/v1/boats/:boat/depletion',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags: ['Forecasts'],
        summary: 'What the depletion plots of a boat are drawn from',
        params: z.object({ boat: NameOrId }),
        querystring: z.strictObject({ asOf: Day.optional() }),
        response: { 200: DepletionView },
      },
    },
    (request) => depletion.read(request.actor, request.params.boat, request.query.asOf),
  )

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
    (request) => forecasts.model(request.actor),
  )
}
