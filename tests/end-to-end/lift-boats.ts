import { AnodePage, type AnodeView } from '../../src/contract/anodes.js'
import { type ForecastItem, ForecastPage } from '../../src/contract/forecasts.js'
import type { RunningService } from './running-service.js'

/** A boat to lift: its anodes in place, each with what is expected of it. */
export interface BoatToLift {
  readonly name: string
  readonly anodes: readonly { readonly view: AnodeView; readonly forecast: ForecastItem }[]
}

/** Boats whose anodes can all be weighed today without a doubt, those with most anodes first. */
export async function boatsToLift(service: RunningService, today: string): Promise<BoatToLift[]> {
  const query = `limit=200&inPlaceOn=${today}`
  const views = AnodePage.parse(await service.get(`/v1/anodes?${query}`)).items
  const { items } = ForecastPage.parse(await service.get('/v1/forecasts?limit=1000'))
  const forecasts = new Map(items.map((item) => [`${item.boat} ${item.anode}`, item]))
  const names = [...new Set(views.map(({ boat }) => boat))]
  return names
    .flatMap((name): BoatToLift[] => {
      const own = views.filter(({ boat }) => boat === name)
      const anodes = own.flatMap((view) => {
        const forecast = forecasts.get(`${name} ${view.name}`)
        return forecast && isWeighable(view, forecast, today) ? [{ view, forecast }] : []
      })
      return anodes.length === own.length ? [{ name, anodes }] : []
    })
    .toSorted((a, b) => b.anodes.length - a.anodes.length)
}

function isWeighable({ fittedOn, grossMassG, lastWeighing }: AnodeView, { massNow }: ForecastItem, today: string) {
  const before = lastWeighing?.massG ?? grossMassG
  const isPast = (lastWeighing?.weighedOn ?? fittedOn ?? today) < today
  return isPast && before !== null && massNow.p50 < before && massNow.p50 > 20
}
