import { useQuery } from '@tanstack/react-query'
import { StatusView } from '../../contract/status.js'
import { read } from './http.js'

/** While somebody looks: what waits is worked off in seconds, and what fails waits for a person anyhow. */
const AGAIN_MS = 30_000

export function useStatus() {
  return useQuery({
    queryKey: ['status'],
    queryFn: ({ signal }) => read(StatusView, '/v1/status', signal),
    refetchInterval: AGAIN_MS,
  })
}
