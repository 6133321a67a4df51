import { useQuery } from '@tanstack/react-query'
import { PontoonPlan } from '../../contract/pontoons.js'
import { read } from './http.js'

export type PlannedPontoon = PontoonPlan['pontoons'][number]
export type PlannedBerth = PlannedPontoon['berths'][number]
export type PlannedFinding = PlannedBerth['findings'][number]

/** The berths by pontoon, with what the last fit says of each. */
export function usePontoonPlan() {
  return useQuery({
    queryKey: ['pontoon-plan'],
    queryFn: ({ signal }) => read(PontoonPlan, '/v1/pontoons/plan', signal),
  })
}
