import { useQuery } from '@tanstack/react-query'
import { z } from 'zod'
import { ALLOYS } from '../../contract/vocabulary.js'
import { readAll } from './http.js'

/** A date of the dock, or null: further away than the service looks. */
const Day = z.iso.date()
const Spread = z.object({ p10: z.number(), p50: z.number(), p90: z.number() })

export const Forecast = z.object({
  boat: z.string(),
  anode: z.string(),
  position: z.string(),
  asOf: Day,
  massNow: Spread,
  consumedNow: z.number(),
  threshold: z.number(),
  replace: z.object({
    p05: Day.nullable(),
    p10: Day.nullable(),
    p50: Day.nullable(),
    p90: Day.nullable(),
    p95: Day.nullable(),
  }),
  recommendedOn: Day.nullable(),
  riskBeforeNextHaulOut: z.number().nullable(),
  nextHaulOut: z.object({ on: Day, planned: z.boolean() }).nullish(),
  rate: Spread,
  basis: z.object({ physics: z.number(), fleet: z.number(), boat: z.number(), anode: z.number() }).partial(),
  wear: z.object({ surprise: z.number(), judgement: z.enum(['normal', 'fast', 'slow']) }).nullish(),
  alloy: z.enum(ALLOYS).nullish(),
  berth: z.string().nullish(),
})
export type Forecast = z.infer<typeof Forecast>

const ForecastPage = z.object({ items: z.array(Forecast), nextCursor: z.string().nullable() })

/** Every forecast of the fleet that the reader may see. */
export function useForecasts() {
  return useQuery({ queryKey: ['forecasts'], queryFn: ({ signal }) => readAll(ForecastPage, '/v1/forecasts', signal) })
}
