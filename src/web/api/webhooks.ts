import { useInfiniteQuery, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import {
  DeliveryDetail,
  DeliveryPage,
  DeliveryView,
  type NewWebhook,
  type WebhookChange,
  WebhookPage,
  type WebhookView,
  WebhookView as WebhookViewSchema,
  WebhookWithSecret,
} from '../../contract/webhooks.js'
import { amend, read, readAll, remove, send } from './http.js'

const PATH = '/v1/webhooks'
const LOG_PAGE = 20
/** While somebody looks at the log: a message on trial takes about a second. */
const LOG_AGAIN_MS = 3_000

type Version = Pick<WebhookView, 'id' | 'version'>

export function useWebhooks() {
  return useQuery({
    queryKey: ['webhooks'],
    queryFn: ({ signal }) => readAll(WebhookPage, `${PATH}?sort=createdAt`, signal),
  })
}

/** The answer holds the secret, this once. */
export function useMakeWebhook() {
  const again = useAgain()
  return useMutation({
    mutationFn: (body: NewWebhook) => send(WebhookWithSecret, PATH, { body }),
    onSuccess: again,
  })
}

export function useChangeWebhook() {
  const again = useAgain()
  return useMutation({
    mutationFn: ({ id, version, change }: Version & { change: WebhookChange }) =>
      amend(WebhookViewSchema, `${PATH}/${id}`, { body: change, basedOn: version }),
    onSettled: again,
  })
}

export function useRotateSecret() {
  const again = useAgain()
  return useMutation({
    mutationFn: ({ id, version }: Version) => send(WebhookWithSecret, `${PATH}/${id}/secret`, { basedOn: version }),
    onSettled: again,
  })
}

/** Its log goes with it: nothing asks for that any more. */
export function useDeleteWebhook() {
  const queries = useQueryClient()
  const list = { queryKey: ['webhooks'], exact: true }
  return useMutation({
    mutationFn: ({ id, version }: Version) => remove(`${PATH}/${id}`, version),
    onSuccess: (_answer, { id }) => {
      queries.setQueryData<WebhookView[]>(list.queryKey, (before) => before?.filter((each) => each.id !== id))
      queries.removeQueries({ queryKey: ['webhooks', id] })
    },
    onSettled: () => queries.invalidateQueries(list),
  })
}

export function useSendTrial() {
  const again = useAgain()
  return useMutation({
    mutationFn: (id: string) => send(DeliveryView, `${PATH}/${id}/trial`, {}),
    onSettled: again,
  })
}

/** What was sent, the newest first, a page at a time. */
export function useDeliveries(id: string, isOpen: boolean) {
  return useInfiniteQuery({
    queryKey: ['webhooks', id, 'deliveries'],
    queryFn: ({ pageParam, signal }) =>
      read(DeliveryPage, `${PATH}/${id}/deliveries?limit=${LOG_PAGE}&cursor=${pageParam}`, signal),
    initialPageParam: '',
    getNextPageParam: ({ nextCursor }) => nextCursor ?? undefined,
    enabled: isOpen,
    refetchInterval: LOG_AGAIN_MS,
  })
}

export function useReplay(id: string) {
  const again = useAgain()
  return useMutation({
    mutationFn: (delivery: string) => send(DeliveryDetail, `${PATH}/${id}/deliveries/${delivery}/replay`, {}),
    onSettled: again,
  })
}

function useAgain() {
  const queries = useQueryClient()
  return () => queries.invalidateQueries({ queryKey: ['webhooks'] })
}
