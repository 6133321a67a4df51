import type { ForecastItem, ForecastPage, ForecastQuery, ModelView } from '../../contract/forecasts.js'
import type { Db } from '../../db/client.js'
import { namesOfVisibleBoats } from '../../db/repositories/boats.js'
import { newestFit } from '../../db/repositories/forecasts.js'
import { utcInstant } from '../../db/repositories/references.js'
import type { Actor } from '../actor.js'
import { NotFound } from '../errors.js'
import { pageOfForecasts } from './forecast-order.js'
import type { IssuedFleets } from './issued-fleets.js'

/** Replacement dates of a fleet, and the model behind them. */
export class ForecastService {
  readonly #db: Db
  readonly #fleets: IssuedFleets

  constructor(db: Db, fleets: IssuedFleets) {
    this.#db = db
    this.#fleets = fleets
  }

  /** @throws BadCursor */
  async page(actor: Actor, query: ForecastQuery): Promise<ForecastPage> {
    const { forecasts } = await this.#fleets.on(actor.organisationId, query.asOf)
    const visible = actor.ownerEmail === undefined ? undefined : new Set(await namesOfVisibleBoats(this.#db, actor))
    const items = forecasts
      .map(({ item }) => item)
      .filter((item) => (visible === undefined || visible.has(item.boat)) && matches(item, query))
    return pageOfForecasts(items, query.sort, query.limit, query.cursor)
  }

  /** @throws NotFound before the first fit */
  async model(actor: Actor): Promise<ModelView> {
    const fit = await newestFit(this.#db, actor.organisationId)
    if (fit === undefined) throw new NotFound('a fit: no refit has been completed yet, so a model')
    return { asOf: fit.asOf, fittedAt: utcInstant(fit.fittedAt), ...fit.summary }
  }
}

function matches(item: ForecastItem, { boat, berth, alloy, dueBefore }: ForecastQuery): boolean {
  return (
    (boat === undefined || item.boat === boat) &&
    (berth === undefined || item.berth === berth) &&
    (alloy === undefined || item.alloy === alloy) &&
    (dueBefore === undefined || (item.recommendedOn !== null && item.recommendedOn <= dueBefore))
  )
}
