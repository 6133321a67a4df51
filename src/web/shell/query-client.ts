import { QueryClient } from '@tanstack/react-query'
import { ServiceProblem } from '../api/problem.js'

const TRIES = 3

/** What was read stays good for half a minute; an answer of the service (not found, not allowed) is not asked again. */
export function createQueryClient(): QueryClient {
  return new QueryClient({
    defaultOptions: {
      queries: {
        staleTime: 30_000,
        retry: (failures, error) => !(error instanceof ServiceProblem && error.status < 500) && failures < TRIES - 1,
      },
    },
  })
}
