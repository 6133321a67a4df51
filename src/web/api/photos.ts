import { useQuery } from '@tanstack/react-query'
import { PhotoPage } from '../../contract/photos.js'
import { read } from './http.js'

/** The last photos of a boat, the newest first. */
export function useLastPhotos(boat: string, limit: number) {
  const query = new URLSearchParams({ sort: '-date', limit: String(limit) })
  return useQuery({
    queryKey: ['photos', boat, limit],
    queryFn: async ({ signal }) =>
      (await read(PhotoPage, `/v1/boats/${encodeURIComponent(boat)}/photos?${query}`, signal)).items,
  })
}
