import type { ForecastItem, ForecastPage, ForecastQuery } from '../../contract/forecasts.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { namesOfVisibleBoats } from '../../db/repositories/boats.js'
import type { Actor } from '../actor.js'
import { pageOfForecasts } from './forecast-order.js'
import type { IssuedFleets } from './issued-fleets.js'

/** Replacement dates of a fleet. */
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
    const visible = actor.ownerEmail === undefined ? undefined : new Set(await this.#namesFor(actor))
    const items = forecasts
      .map(({ item }) => item)
      .filter((item) => (visible === undefined || visible.has(item.boat)) && matches(item, query))
    return pageOfForecasts(items, query.sort, query.limit, query.cursor)
  }

  #namesFor(actor: Actor): Promise<string[]> {
    return inOrganisation(this.#db, actor, (tx) => namesOfVisibleBoats(tx, actor))
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
