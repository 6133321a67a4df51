import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { z } from 'zod'
import { PushKey, PushOutcomeView } from '../../contract/push.js'
import type { Language } from '../../messages/languages.js'
import { notificationsHere, subscribeHere, subscriptionHere, unsubscribeHere } from '../offline/notifications-here.js'
import { read, send } from './http.js'

const PATH = '/v1/me/push-subscriptions'
const KEY = ['notifications-here']

/** How it is in this browser. */
export function useNotificationsHere() {
  return useQuery({ queryKey: KEY, queryFn: notificationsHere, networkMode: 'always' })
}

/** Asks the browser, and tells the service where to reach it. */
export function useSwitchOn() {
  const again = useAgain()
  return useMutation({
    mutationFn: async () => {
      const { publicKey } = await read(PushKey, '/v1/push/key')
      const subscription = await subscribeHere(publicKey)
      if (subscription === undefined) return
      try {
        await send(z.unknown(), PATH, { body: subscription })
      } catch (error) {
        // A browser that believes to be on while the service knows nothing of it would wait for ever.
        await unsubscribeHere()
        throw error
      }
    },
    onSettled: again,
  })
}

export function useSwitchOff() {
  const again = useAgain()
  return useMutation({ mutationFn: endHere, onSettled: again })
}

/** Shows what a notification looks like. */
export function useTrial() {
  return useMutation({
    mutationFn: (body: { endpoint: string; language: Language }) => send(PushOutcomeView, `${PATH}/trial`, { body }),
  })
}

/** Ends notifications in this browser, whoever they were for. */
export async function endHere(): Promise<void> {
  const endpoint = await unsubscribeHere()
  if (endpoint !== null) await send(z.unknown(), `${PATH}/end`, { body: { endpoint } })
}

/** Has the service know again that this browser is notified, where it may have forgotten; nothing where it is not. */
export async function renewHere(): Promise<void> {
  const subscription = await subscriptionHere()
  if (subscription !== null) await send(z.unknown(), PATH, { body: subscription })
}

function useAgain() {
  const queries = useQueryClient()
  return () => queries.invalidateQueries({ queryKey: KEY })
}
