import { useQuery } from '@tanstack/react-query'
import { ModelView } from '../../contract/model.js'
import { read } from './http.js'
import { ServiceProblem } from './problem.js'

/** The model behind the forecasts with its track record; null before the first fit. */
export function useModel() {
  return useQuery({
    queryKey: ['model'],
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
