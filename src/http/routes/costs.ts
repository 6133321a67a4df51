import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { BoatParams } from '../../contract/boats.js'
import { BoatCosts, NewPriceList, PriceList } from '../../contract/prices.js'
import type { BoatCostService } from '../../services/costs/boat-cost-service.js'
import type { PriceListService } from '../../services/costs/price-list-service.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendTagged } from '../etag.js'

const tags = ['Costs']

interface CostRouteServices {
  readonly priceList: PriceListService
  readonly boatCosts: BoatCostService
}

/** What lifts and parts cost, and what a boat has cost so far. */
export const costRoutes: FastifyPluginAsyncZod<CostRouteServices> = async (app, { priceList, boatCosts }) => {
  app.get(
    '/v1/prices',
    { preHandler: requires('desk:read'), schema: { tags, summary: 'The price list', response: { 200: PriceList } } },
    async (request, reply) => sendTagged(reply, await priceList.read(request.actor)),
  )
  app.put(
    '/v1/prices',
    {
      preHandler: requires('prices:write'),
      schema: {
        tags,
        summary: 'Replace the price list',
        description: 'If-Match with the ETag of the list that was read; "0" where there is none yet.',
        headers: IfMatch,
        body: NewPriceList,
        response: { 200: PriceList },
      },
    },
    async (request, reply) =>
      sendTagged(reply, await priceList.replace(request.actor, requireMatch(request), request.body)),
  )
  app.get(
    '/v1/boats/:boat/costs',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: 'What a boat has cost so far, and what its next lift will',
        params: BoatParams,
        response: { 200: BoatCosts },
      },
    },
    (request) => boatCosts.read(request.actor, request.params.boat),
  )
}
