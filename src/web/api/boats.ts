import { useQuery } from '@tanstack/react-query'
import { AnodePage } from '../../contract/anodes.js'
import { BerthPage } from '../../contract/berths.js'
import { BoatPage, BoatView } from '../../contract/boats.js'
import { read, readAll } from './http.js'

export function useBoat(boat: string) {
  return useQuery({
    queryKey: ['boat', boat],
    queryFn: ({ signal }) => read(BoatView, `/v1/boats/${encodeURIComponent(boat)}`, signal),
  })
}

/** Every boat that the reader may see: an owner's own. */
export function useYourBoats() {
  return useQuery({
    queryKey: ['boats'],
    queryFn: ({ signal }) => readAll(BoatPage, '/v1/boats?sort=name', signal),
  })
}

/** The anodes that were on a boat on a day, each with its last weighing. */
export function useAnodesInPlace(boat: string, day: string) {
  const query = new URLSearchParams({ boat, inPlaceOn: day, sort: 'name' })
  return useQuery({
    queryKey: ['anodes', boat, day],
    queryFn: ({ signal }) => readAll(AnodePage, `/v1/anodes?${query}`, signal),
    // While a date is typed the list of the date before stays, so that fields do not lose what is typed.
    placeholderData: (before) => before,
  })
}

/** Every anode that a boat has or had; none before there is a boat. */
export function useAnodesOfBoat(boat: string) {
  return useQuery({
    queryKey: ['anodes', boat],
    queryFn: ({ signal }) => readAll(AnodePage, `/v1/boats/${encodeURIComponent(boat)}/anodes?sort=createdAt`, signal),
    enabled: boat !== '',
  })
}

/** The berths with their pontoons. */
export function useBerths() {
  return useQuery({
    queryKey: ['berths'],
    queryFn: ({ signal }) => readAll(BerthPage, '/v1/berths', signal),
    staleTime: 300_000,
  })
}
