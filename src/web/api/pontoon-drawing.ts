import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { z } from 'zod'
import { type NewPontoonDrawing, PontoonDrawing } from '../../contract/pontoon-drawing.js'
import { read, replace } from './http.js'

const PATH = '/v1/pontoons/drawing'
const DRAWING = ['pontoon-drawing']

export function usePontoonDrawing() {
  return useQuery({ queryKey: DRAWING, queryFn: ({ signal }) => read(PontoonDrawing, PATH, signal) })
}

interface Saving {
  readonly drawing: z.input<typeof NewPontoonDrawing>
  readonly version: number
}

/** Pontoons and berths may be others after it: whatever was read of a fleet is read again. */
export function useSaveDrawing() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: ({ drawing, version }: Saving) => replace(PontoonDrawing, PATH, { body: drawing, basedOn: version }),
    onSuccess: async (saved) => {
      await queries.invalidateQueries()
      queries.setQueryData(DRAWING, saved)
    },
  })
}
