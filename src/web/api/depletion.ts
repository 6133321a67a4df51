import { useQuery } from '@tanstack/react-query'
import { z } from 'zod'
import { ALLOYS, CONDITIONS, WEIGHING_METHODS } from '../../contract/vocabulary.js'
import { Forecast } from './forecasts.js'
import { read } from './http.js'

const Day = z.iso.date()

const Photo = z.object({ id: z.string(), widthPx: z.number().optional(), heightPx: z.number().optional() })

const DepletionWeighing = z.object({
  id: z.string(),
  on: Day,
  massG: z.number(),
  sdG: z.number(),
  method: z.enum(WEIGHING_METHODS),
  conditions: z.array(z.enum(CONDITIONS)),
  photos: z.array(Photo).default([]),
})
export type DepletionWeighing = z.infer<typeof DepletionWeighing>

export const DepletionAnode = z.object({
  anode: z.string(),
  position: z.string(),
  positionSlot: z.number().optional(),
  alloy: z.enum(ALLOYS).nullable(),
  shape: z.string().nullable(),
  fittedOn: Day.nullable(),
  removedOn: Day.nullable(),
  coreMassG: z.number().nullable(),
  fittedMassG: z.number().nullable(),
  thresholdMassG: z.number().nullable(),
  weighings: z.array(DepletionWeighing),
  curve: z.array(z.object({ on: Day, p10: z.number(), p50: z.number(), p90: z.number() })),
  forecast: Forecast.nullable(),
})
export type DepletionAnode = z.infer<typeof DepletionAnode>

export const BoatDepletion = z.object({ boat: z.string(), asOf: Day, anodes: z.array(DepletionAnode) })
export type BoatDepletion = z.infer<typeof BoatDepletion>

/** The depletion of each anode of a boat, those in place and those before them. */
export function useDepletion(boat: string) {
  return useQuery({
    queryKey: ['depletion', boat],
    queryFn: ({ signal }) => read(BoatDepletion, `/v1/boats/${encodeURIComponent(boat)}/depletion`, signal),
  })
}

/** Address of a photo, small or as stored. */
export function photoUrl(id: string, size: 'thumb' | 'full'): string {
  return `/v1/photos/${encodeURIComponent(id)}${size === 'thumb' ? '?size=thumb' : ''}`
}
