import { useInfiniteQuery, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { z } from 'zod'
import { LinkFollowed } from '../../contract/access.js'
import {
  type LetterAction,
  LetterLinkView,
  type NoticeItem,
  NoticePage,
  NoticePreview,
  type NoticeState,
  ReminderSettings,
  type ReminderSettingsChange,
  TrialOutcome,
  type TrialRequest,
} from '../../contract/notices.js'
import { amend, read, send } from './http.js'
import { forgetOthers } from './session.js'

const LOG_PAGE = 25
const LOG_AGAIN_MS = 5_000
const SETTINGS = ['reminders']
const LOG = ['notices']

export function useReminders() {
  return useQuery({ queryKey: SETTINGS, queryFn: ({ signal }) => read(ReminderSettings, '/v1/reminders', signal) })
}

export function useChangeReminders() {
  const client = useQueryClient()
  return useMutation({
    mutationFn: (body: ReminderSettingsChange) => amend(ReminderSettings, '/v1/reminders', { body }),
    onSuccess: async (settings) => {
      client.setQueryData(SETTINGS, settings)
      await client.invalidateQueries({ queryKey: LOG })
    },
  })
}

export function usePreview(days: number) {
  return useQuery({
    queryKey: [...LOG, 'preview', days],
    queryFn: ({ signal }) => read(NoticePreview, `/v1/notices/preview?days=${days}`, signal),
  })
}

/** Sends a letter of the preview to whoever asks. */
export function useTrialLetter() {
  return useMutation({
    mutationFn: (body: TrialRequest) => send(TrialOutcome, '/v1/notices/trial', { body }),
  })
}

/** Letters, the latest first. */
export function useNotices(state: NoticeState | null) {
  return useInfiniteQuery({
    queryKey: [...LOG, 'log', state],
    initialPageParam: '',
    queryFn: ({ pageParam, signal }) => {
      const query = new URLSearchParams({ limit: String(LOG_PAGE), cursor: pageParam, ...(state && { state }) })
      return read(NoticePage, `/v1/notices?${query}`, signal)
    },
    getNextPageParam: ({ nextCursor }) => nextCursor,
    // While some are on their way: they go out one after the other.
    refetchInterval: ({ state: { data } }) => (isAnyWaiting(data?.pages) ? LOG_AGAIN_MS : false),
  })
}

function isAnyWaiting(pages: readonly { readonly items: readonly NoticeItem[] }[] | undefined): boolean {
  return pages?.some(({ items }) => items.some(({ state }) => state === 'waiting')) ?? false
}

export function useRetryNotice() {
  const client = useQueryClient()
  return useMutation({
    mutationFn: (id: string) => send(z.unknown(), `/v1/notices/${id}/retry`, {}),
    onSettled: () => client.invalidateQueries({ queryKey: LOG }),
  })
}

/** What a letter's link is about: read without signing in. */
export function useLetter(token: string) {
  return useQuery({
    queryKey: ['letter', token],
    queryFn: ({ signal }) => read(LetterLinkView, `/v1/letters/${token}`, signal),
    retry: false,
  })
}

/** Signs the reader of a letter in, then loads the page that it is about. */
export function useOpenLetter(token: string) {
  return useMutation({
    mutationFn: async () => {
      const { page } = await send(LinkFollowed, `/v1/letters/${token}/open`, {})
      await forgetOthers()
      location.replace(page)
    },
  })
}

export function useAnswerLetter(token: string) {
  const client = useQueryClient()
  return useMutation({
    mutationFn: (body: LetterAction) => send(LetterLinkView, `/v1/letters/${token}`, { body }),
    onSuccess: (view) => client.setQueryData(['letter', token], view),
  })
}
