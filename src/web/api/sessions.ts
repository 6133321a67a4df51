import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { z } from 'zod'
import { SessionList, type SessionsToEnd } from '../../contract/access.js'
import { read, remove, send } from './http.js'
import { leave } from './session.js'

const PATH = '/v1/me/sessions'
const KEY = ['sessions']

/** Where whoever is signed in is signed in. */
export function useSessions() {
  return useQuery({
    queryKey: KEY,
    queryFn: async ({ signal }) => (await read(SessionList, PATH, signal)).items,
  })
}

export function useEndSession() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: (id: string) => remove(`${PATH}/${encodeURIComponent(id)}`),
    onSettled: () => queries.invalidateQueries({ queryKey: KEY }),
  })
}

/** Signs out everywhere else; or everywhere, and then leads to the sign-in page. */
export function useEndSessions() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: async (body: SessionsToEnd) => {
      await send(z.unknown(), `${PATH}/end`, { body })
      if (body.which === 'all') await leave()
    },
    onSettled: () => queries.invalidateQueries({ queryKey: KEY }),
  })
}
