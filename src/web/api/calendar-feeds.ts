import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import {
  CalendarFeeds,
  type CalendarFeedView,
  CalendarFeedWithLink,
  type NewCalendarFeed,
} from '../../contract/calendar-feeds.js'
import { read, remove, send } from './http.js'

const PATH = '/v1/me/calendar-feeds'
const KEY = ['calendar-feeds']

export function useCalendarFeeds() {
  return useQuery({
    queryKey: KEY,
    queryFn: async ({ signal }) => (await read(CalendarFeeds, PATH, signal)).items,
  })
}

/** The answer holds the link, this once. */
export function useMakeCalendarFeed() {
  const again = useAgain()
  return useMutation({
    mutationFn: (body: NewCalendarFeed) => send(CalendarFeedWithLink, PATH, { body }),
    onSuccess: again,
  })
}

/** Another link in place of the one before. */
export function useRenewCalendarFeed() {
  const again = useAgain()
  return useMutation({
    mutationFn: ({ id, version }: CalendarFeedView) =>
      send(CalendarFeedWithLink, `${PATH}/${id}/link`, { basedOn: version }),
    onSettled: again,
  })
}

export function useRevokeCalendarFeed() {
  const again = useAgain()
  return useMutation({
    mutationFn: ({ id, version }: CalendarFeedView) => remove(`${PATH}/${id}`, version),
    onSettled: again,
  })
}

function useAgain() {
  const queries = useQueryClient()
  return () => queries.invalidateQueries({ queryKey: KEY })
}
