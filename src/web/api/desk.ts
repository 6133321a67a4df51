import { keepPreviousData, useInfiniteQuery, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { useEffect } from 'react'
import type { z } from 'zod'
import { Comparisons, DepletionPage, DeskBoatPage, DeskCalendar } from '../../contract/desk.js'
import { LiftPlanAnswer, type LiftPlanRequest, PartsList } from '../../contract/desk-plan.js'
import { type NewSavedView, SavedView, type SavedViewChange, SavedViews } from '../../contract/desk-views.js'
import { amend, read, remove, send } from './http.js'

/** A first page is there at once, the others of a large fleet follow. */
const BOATS_A_PAGE = 250

interface DeskPage {
  readonly items: readonly unknown[]
  readonly nextCursor: string | null
}

/** Every page of a list of the desk, one after another; what is there already is shown meanwhile. */
function useWholeList<Page extends DeskPage>(name: string, schema: z.ZodType<Page>, filter: URLSearchParams) {
  const list = useInfiniteQuery({
    queryKey: ['desk', name, filter.toString()],
    queryFn: ({ pageParam, signal }) => {
      const page = new URLSearchParams({ limit: String(BOATS_A_PAGE), cursor: pageParam })
      return read(schema, `/v1/desk/${name}?${new URLSearchParams([...filter, ...page])}`, signal)
    },
    initialPageParam: '',
    getNextPageParam: ({ nextCursor }) => nextCursor,
    placeholderData: keepPreviousData,
  })
  const { hasNextPage, isFetching, isError, fetchNextPage } = list
  useEffect(() => {
    if (hasNextPage && !isFetching && !isError) void fetchNextPage()
  }, [hasNextPage, isFetching, isError, fetchNextPage])
  return list
}

/** @param filter query of `GET /v1/desk/boats`: filters and order */
export const useDeskBoats = (filter: URLSearchParams) => useWholeList('boats', DeskBoatPage, filter)

export const useDeskDepletion = (filter: URLSearchParams) => useWholeList('depletion', DepletionPage, filter)

export function useDeskCalendar(filter: URLSearchParams) {
  return useQuery({
    queryKey: ['desk', 'calendar', filter.toString()],
    queryFn: ({ signal }) => read(DeskCalendar, `/v1/desk/calendar?${filter}`, signal),
    placeholderData: keepPreviousData,
  })
}

export function useComparisons(by: string) {
  return useQuery({
    queryKey: ['desk', 'comparisons', by],
    queryFn: ({ signal }) => read(Comparisons, `/v1/desk/comparisons?${new URLSearchParams({ by })}`, signal),
    placeholderData: keepPreviousData,
  })
}

/** @param request `null` as long as nothing is asked */
export function useLiftPlan(request: LiftPlanRequest | null) {
  return useQuery({
    queryKey: ['desk', 'lift-plan', request],
    queryFn: () => send(LiftPlanAnswer, '/v1/desk/lift-plan', { body: request }),
    enabled: request !== null,
    placeholderData: keepPreviousData,
  })
}

export function usePartsList(filter: URLSearchParams) {
  return useQuery({
    queryKey: ['desk', 'parts', filter.toString()],
    queryFn: ({ signal }) => read(PartsList, `/v1/desk/parts?${filter}`, signal),
    placeholderData: keepPreviousData,
  })
}

const VIEWS = ['desk', 'views']

export function useSavedViews() {
  return useQuery({
    queryKey: VIEWS,
    queryFn: async ({ signal }) => (await read(SavedViews, '/v1/desk/views', signal)).items,
  })
}

/** What can be done with views; the list is read anew after each. */
export function useViewChanges() {
  const queries = useQueryClient()
  const onSettled = () => queries.invalidateQueries({ queryKey: VIEWS })
  return {
    save: useMutation({
      mutationFn: (view: NewSavedView) => send(SavedView, '/v1/desk/views', { body: view }),
      onSettled,
    }),
    change: useMutation({
      mutationFn: ({ view, change }: { view: SavedView; change: SavedViewChange }) =>
        amend(SavedView, `/v1/desk/views/${view.id}`, { body: change, basedOn: view.version }),
      onSettled,
    }),
    forget: useMutation({
      mutationFn: (view: SavedView) => remove(`/v1/desk/views/${view.id}`, view.version),
      onSettled,
    }),
  }
}
