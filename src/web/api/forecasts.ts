import { useQuery } from '@tanstack/react-query'
import { type ForecastItem, ForecastPage } from '../../contract/forecasts.js'
import { readAll } from './http.js'

export type Forecast = ForecastItem

/** Every forecast of the fleet that the reader may see. */
export function useForecasts() {
  return useQuery({ queryKey: ['forecasts'], queryFn: ({ signal }) => readAll(ForecastPage, '/v1/forecasts', signal) })
}
