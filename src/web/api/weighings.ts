import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { z } from 'zod'
import { CorrectedWeighing, type WeighingCorrection, WeighingView } from '../../contract/weighings.js'
import { readAgain } from './haul-outs.js'
import { amend, read, remove } from './http.js'

const pathOf = (id: string) => `/v1/weighings/${encodeURIComponent(id)}`

/** A weighing as it was logged, with the version that a correction is based on. */
export function useWeighing(id: string) {
  return useQuery({
    queryKey: ['weighing', id],
    queryFn: ({ signal }) => read(WeighingView, pathOf(id), signal),
    // A form is filled from it: what was read a while ago may have been corrected since.
    gcTime: 0,
    refetchOnWindowFocus: false,
  })
}

/** Corrects a weighing, with the reason; refused where it was changed since it was read. */
export function useCorrectWeighing({ id, version }: Pick<WeighingView, 'id' | 'version'>) {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: (body: z.input<typeof WeighingCorrection>) =>
      amend(CorrectedWeighing, pathOf(id), { body, basedOn: version }),
    onSuccess: () => readAgain(queries),
  })
}

/** Deletes a weighing that should not be there; its history stays. */
export function useDeleteWeighing({ id, version }: Pick<WeighingView, 'id' | 'version'>) {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: (reason: string) => remove(`${pathOf(id)}?${new URLSearchParams({ reason })}`, version),
    onSuccess: () => readAgain(queries),
  })
}
