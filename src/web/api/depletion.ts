import { useQuery } from '@tanstack/react-query'
import { DepletionView } from '../../contract/forecasts.js'
import { read } from './http.js'

export type DepletionAnode = DepletionView['anodes'][number]
export type DepletionWeighing = DepletionAnode['weighings'][number]

/** The depletion of each anode of a boat, those in place and those before them. */
export function useDepletion(boat: string) {
  return useQuery({
    queryKey: ['depletion', boat],
    queryFn: ({ signal }) => read(DepletionView, `/v1/boats/${encodeURIComponent(boat)}/depletion`, signal),
  })
}

/** Address of a photo, small or as stored. */
export function photoUrl(id: string, size: 'thumb' | 'full'): string {
  return `/v1/photos/${encodeURIComponent(id)}${size === 'thumb' ? '?size=thumb' : ''}`
}
