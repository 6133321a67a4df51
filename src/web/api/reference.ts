import { useQuery } from '@tanstack/react-query'
import { ReferenceIndex, ReferenceTable } from '../../contract/reference.js'
import { read } from './http.js'

/** Published values change with the program alone: what was fetched once serves until the page is loaded again. */
const KEPT = { staleTime: Number.POSITIVE_INFINITY } as const

export function useReferenceIndex() {
  return useQuery({
    queryKey: ['reference'],
    queryFn: ({ signal }) => read(ReferenceIndex, '/v1/reference', signal),
    ...KEPT,
  })
}

export function useReferenceTable(table: string) {
  return useQuery({
    queryKey: ['reference', table],
    queryFn: ({ signal }) => read(ReferenceTable, `/v1/reference/${encodeURIComponent(table)}`, signal),
    ...KEPT,
  })
}
