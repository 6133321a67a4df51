import { useQuery } from '@tanstack/react-query'
import { GalvanicAuditView } from '../../contract/galvanic.js'
import { read } from './http.js'

/** What the underwater metals of a boat do to each other. */
export function useGalvanicAudit(boat: string) {
  return useQuery({
    queryKey: ['galvanic-audit', boat],
    queryFn: ({ signal }) => read(GalvanicAuditView, `/v1/boats/${encodeURIComponent(boat)}/galvanic-audit`, signal),
  })
}
