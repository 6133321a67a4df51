import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { DepletionView, ForecastPage, ForecastQuery } from '../../contract/forecasts.js'
import { Day, NameOrId } from '../../contract/names.js'
import { WhatIf, WhatIfAnswer } from '../../contract/what-if.js'
import type { DepletionService } from '../../services/forecasts/depletion-service.js'
import type { ForecastService } from '../../services/forecasts/forecast-service.js'
import type { WhatIfService } from '../../services/forecasts/what-if-service.js'
import { requires } from '../auth/requires.js'

export interface ForecastRoutes {
  readonly forecasts: ForecastService
  readonly depletion: DepletionService
  readonly whatIf: WhatIfService
}

/** Replacement dates, and what they are drawn from. */
export const forecastRoutes: FastifyPluginAsyncZod<ForecastRoutes> = async (app, { forecasts, depletion, whatIf }) => {
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

  app.post(
    '/v1/boats/:boat/what-if',
    {
      preHandler: requires('fleet:read'),
      config: { onlyComputes: true },
      schema: {
        tags: ['Forecasts'],
        summary: 'What a change of berth, a stay ashore or another lift would do to the dates',
        params: z.object({ boat: NameOrId }),
        body: WhatIf,
        response: { 200: WhatIfAnswer },
      },
    },
    (request) => whatIf.ask(request.actor, request.params.boat, request.body),
  )
}
