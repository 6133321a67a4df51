import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { BoatCosts, type NewPriceList, PriceList } from '../../contract/prices.js'
import { read, replace } from './http.js'

const PRICES = ['prices']
const COSTS = ['costs']

export function usePriceList() {
  return useQuery({ queryKey: PRICES, queryFn: ({ signal }) => read(PriceList, '/v1/prices', signal) })
}

export function useReplacePriceList() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: ({ list, version }: { list: NewPriceList; version: number }) =>
      replace(PriceList, '/v1/prices', { body: list, basedOn: version }),
    onSuccess: async (list) => {
      queries.setQueryData(PRICES, list)
      await queries.invalidateQueries({ queryKey: COSTS })
    },
  })
}

/** What a boat has cost so far, and what its next lift will. */
export function useBoatCosts(boat: string) {
  return useQuery({
    queryKey: [...COSTS, boat],
    queryFn: ({ signal }) => read(BoatCosts, `/v1/boats/${encodeURIComponent(boat)}/costs`, signal),
  })
}
