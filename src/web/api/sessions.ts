import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { z } from 'zod'
import { SessionList, type SessionsToEnd } from '../../contract/access.js'
import { read, remove, send } from './http.js'
import { leave, notNotifiedHere } from './session.js'

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
    mutationFn: async (id: string) => {
      await remove(`${PATH}/${encodeURIComponent(id)}`)
      await stayNotified()
    },
    onSettled: () => queries.invalidateQueries({ queryKey: KEY }),
  })
}

/** Signs out everywhere else; or everywhere, and then leads to the sign-in page. */
export function useEndSessions() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: async (body: SessionsToEnd) => {
      if (body.which === 'all') await notNotifiedHere()
      await send(z.unknown(), `${PATH}/end`, { body })
      if (body.which === 'all') await leave()
      else await stayNotified()
    },
    onSettled: () => queries.invalidateQueries({ queryKey: KEY }),
  })
}

/** With the other devices the service forgets a browser of which it does not know the session, as this may be. Fetched only here. */
async function stayNotified(): Promise<void> {
  const { renewHere } = await import('./push.js')
  await renewHere().catch(() => {})
}
