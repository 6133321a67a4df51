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

/** Changes a choice, here and wherever else they sign in. */
export function useChangePreferences() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: async (body: PreferencesChange) => {
      const chosen = await amend(PreferencesView, PATH, { body })
      await mirror(chosen)
      return chosen
    },
    onSuccess: (chosen) => queries.setQueryData(KEY, chosen),
  })
}
