import { useQuery } from '@tanstack/react-query'
import { FittingPage } from '../../contract/fittings.js'
import { PhotoPage } from '../../contract/photos.js'
import { PotentialPage } from '../../contract/potentials.js'
import { StayPage } from '../../contract/stays.js'
import { readAll } from './http.js'

const pathOf = (boat: string) => `/v1/boats/${encodeURIComponent(boat)}`

/** Every potential of a boat, the oldest first. */
export function usePotentials(boat: string) {
  return useQuery({
    queryKey: ['potentials', boat],
    queryFn: ({ signal }) => readAll(PotentialPage, `${pathOf(boat)}/potentials?sort=measuredAt`, signal),
  })
}

/** The underwater metal of a boat. */
export function useFittings(boat: string) {
  return useQuery({
    queryKey: ['fittings', boat],
    queryFn: ({ signal }) => readAll(FittingPage, `${pathOf(boat)}/fittings?sort=name`, signal),
  })
}

/** Where a boat lay, the first stay first. */
export function useStays(boat: string) {
  return useQuery({
    queryKey: ['stays', boat],
    queryFn: ({ signal }) => readAll(StayPage, `${pathOf(boat)}/stays?sort=fromOn`, signal),
  })
}

/** Every photo of a boat, the oldest first. */
export function usePhotos(boat: string) {
  return useQuery({
    queryKey: ['photos', boat, 'all'],
    queryFn: ({ signal }) => readAll(PhotoPage, `${pathOf(boat)}/photos?sort=date`, signal),
  })
}
