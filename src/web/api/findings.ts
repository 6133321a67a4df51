import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { useRef } from 'react'
import type { z } from 'zod'
import {
  Acknowledgement,
  CheckList,
  FindingDetail,
  type FindingItem,
  FindingPage,
  NewCheck,
  NewResolution,
  Reopening,
} from '../../contract/findings.js'
import { read, readAll, send } from './http.js'
import { newKey } from './request-key.js'

export type Finding = FindingItem
export type { FindingDetail }

/** What a step in a finding's life changes. */
const TOUCHED = ['findings', 'pontoon-plan', 'forecasts', 'depletion']

/** Lists do without what weighs most: it is read on a finding's own page. */
const LISTED = { evidence: 'none' }

/** The findings of a state, of several (`unsettled`), or all but the closed ones. */
export function useFindings(state: string) {
  const query = new URLSearchParams({ ...LISTED, ...(state !== 'all' && { state }) })
  return useQuery({
    queryKey: ['findings', 'list', state],
    queryFn: ({ signal }) => readAll(FindingPage, `/v1/findings?${query}`, signal),
    placeholderData: (before) => before,
  })
}

/** What is not settled yet and shares a boat. */
export function useFindingsOfBoat(boat: string) {
  const query = new URLSearchParams({ ...LISTED, state: 'unsettled', boat })
  return useQuery({
    queryKey: ['findings', 'of-boat', boat],
    queryFn: ({ signal }) => readAll(FindingPage, `/v1/findings?${query}`, signal),
  })
}

export function useFinding(id: string) {
  return useQuery({
    queryKey: ['findings', 'one', id],
    queryFn: ({ signal }) => read(FindingDetail, pathOf(id), signal),
  })
}

/** Every check that can be recorded. */
export function useChecks() {
  return useQuery({
    queryKey: ['checks'],
    queryFn: async ({ signal }) => (await read(CheckList, '/v1/checks', signal)).items,
    staleTime: Number.POSITIVE_INFINITY,
  })
}

const STEPS = {
  acknowledge: Acknowledgement,
  checks: NewCheck,
  resolve: NewResolution,
  reopen: Reopening,
} as const

export type Step = keyof typeof STEPS
export type StepBody<Of extends Step> = z.input<(typeof STEPS)[Of]>

/**
 * A step in the life of a finding as it was read: refused where somebody has taken one since. Sending it again after a
 * failure takes it once; after that it is another step.
 */
export function useStep<Of extends Step>({ id, version }: Pick<FindingDetail, 'id' | 'version'>, step: Of) {
  const queries = useQueryClient()
  const sent = useRef({ text: '', key: '' })
  return useMutation({
    mutationFn: (body: StepBody<Of>) => {
      const text = JSON.stringify([body, version])
      if (text !== sent.current.text) sent.current = { text, key: newKey() }
      const { key: idempotencyKey } = sent.current
      return send(FindingDetail, `${pathOf(id)}/${step}`, { body, idempotencyKey, basedOn: version })
    },
    onSuccess: async (detail) => {
      sent.current = { text: '', key: '' }
      queries.setQueryData(['findings', 'one', id], detail)
      await Promise.all(TOUCHED.map((key) => queries.invalidateQueries({ queryKey: [key] })))
    },
  })
}

function pathOf(id: string): string {
  return `/v1/findings/${encodeURIComponent(id)}`
}
