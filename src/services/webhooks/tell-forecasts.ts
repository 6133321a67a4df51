import type { ForecastItem } from '../../contract/forecasts.js'
import type { Db } from '../../db/client.js'
import { forecastsOfFit, type IssuedForecast, newestFit } from '../../db/repositories/forecasts.js'
import { isListenedFor } from '../../db/repositories/webhooks.js'
import { emitWebhookEvent } from './emit.js'
import { movedForecasts } from './moved-forecasts.js'

/** What was forecast until now, by anode; empty where nobody wants to hear what moved. To be asked before new ones are kept. */
export async function forecastsUntilNow(tx: Db, organisationId: string): Promise<ReadonlyMap<string, ForecastItem>> {
  if (!(await isListenedFor(tx, organisationId, ['forecast.moved']))) return new Map()
  const fit = await newestFit(tx, organisationId)
  const issued = fit === undefined ? [] : await forecastsOfFit(tx, organisationId, fit.id)
  return new Map(issued.map(({ anodeId, item }) => [anodeId, item]))
}

export interface NewForecasts {
  readonly asOf: string
  /** Of the whole fleet, or of some boats that were just weighed. */
  readonly of: 'fleet' | 'boats'
  readonly before: ReadonlyMap<string, ForecastItem>
  readonly issued: readonly IssuedForecast[]
}

/** Tells whoever listens that forecasts were issued, and for each boat which of its dates have moved. */
export async function tellForecasts(
  tx: Db,
  organisationId: string,
  { asOf, of, before, issued }: NewForecasts,
): Promise<void> {
  const boats = [...new Set(issued.map(({ item }) => item.boat))].sort()
  const data = { asOf, of, anodes: issued.length, boats: of === 'fleet' ? null : boats }
  await emitWebhookEvent(tx, organisationId, { event: 'forecast.issued', data })
  for (const moved of movedForecasts(before, issued)) {
    await emitWebhookEvent(tx, organisationId, { event: 'forecast.moved', data: { asOf, ...moved } })
  }
}
