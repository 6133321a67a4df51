import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { type PreferencesChange, PreferencesView } from '../../contract/preferences.js'
import { mirror } from '../i18n/mirror.js'
import { amend, read } from './http.js'

const PATH = '/v1/me/preferences'
const KEY = ['preferences']

/** What whoever is signed in has chosen; the pages follow it on this device from then on. */
export function usePreferences() {
  return useQuery({
    queryKey: KEY,
    queryFn: async ({ signal }) => {
      const chosen = await read(PreferencesView, PATH, signal)
      await mirror(chosen)
      return chosen
    },
    staleTime: 300_000,
  })
}

/** Changes a choice, here and wherever else they sign in: shown at once, taken back where it was not kept. */
export function useChangePreferences() {
  const queries = useQueryClient()
  return useMutation({
    mutationKey: KEY,
    mutationFn: async (body: PreferencesChange) => {
      const chosen = await amend(PreferencesView, PATH, { body })
      await mirror(chosen)
      return chosen
    },
    onMutate: (body) => {
      const before = queries.getQueryData<PreferencesView>(KEY)
      if (before) queries.setQueryData(KEY, PreferencesView.parse({ ...before, ...body }))
      return before
    },
    onError: (_error, _body, before) => queries.setQueryData(KEY, before),
    // While a later choice is on its way, an earlier answer would take it back for a moment.
    onSuccess: (chosen) => {
      if (queries.isMutating({ mutationKey: KEY }) === 1) queries.setQueryData(KEY, chosen)
    },
  })
}
