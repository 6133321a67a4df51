import { useQuery } from '@tanstack/react-query'
import type { z } from 'zod'
import { ModelView } from '../../contract/model.js'
import { read } from './http.js'
import { ServiceProblem } from './problem.js'

const UNTIL_FITTED_MS = 10_000

/** The model behind the forecasts with its track record; null before the first fit. */
export function useModel() {
  return useQuery<z.output<typeof ModelView> | null>({
    queryKey: ['model'],
    // A new fleet's first fit is on its way: nobody should have to ask again by hand.
    refetchInterval: ({ state }) => (state.data === null ? UNTIL_FITTED_MS : false),
    queryFn: async ({ signal }) => {
      try {
        return await read(ModelView, '/v1/model', signal)
      } catch (error) {
        if (error instanceof ServiceProblem && error.status === 404) return null
        throw error
      }
    },
  })
}
