import { type QueryClient, useQuery, useQueryClient } from '@tanstack/react-query'
import { useEffect } from 'react'
import { z } from 'zod'
import { HaulOutPage, LoggedHaulOut, type NewHaulOut } from '../../contract/haul-outs.js'
import { JobView } from '../../contract/jobs.js'
import { read, readAll, send } from './http.js'

const POLL_MS = 1000
/** What a haul-out changes. */
const TOUCHED = [
  'forecasts',
  'depletion',
  'haul-outs',
  'anodes',
  'boat',
  'findings',
  'pontoon-plan',
  'record-questions',
  'stays',
  'photos',
]

/** Past and planned haul-outs of a boat, the newest first. */
export function useHaulOuts(boat: string) {
  const query = new URLSearchParams({ boat, sort: '-hauledOn' })
  return useQuery({
    queryKey: ['haul-outs', boat],
    queryFn: ({ signal }) => readAll(HaulOutPage, `/v1/haul-outs?${query}`, signal),
  })
}

/** Logs a haul-out: all of it or nothing. The same key twice logs it once. */
export function logHaulOut(boat: string, body: z.input<typeof NewHaulOut>, idempotencyKey: string) {
  return send(LoggedHaulOut, `/v1/boats/${encodeURIComponent(boat)}/haul-outs`, { body, idempotencyKey })
}

/** What a photo hangs on: a weighing, or the haul-out where the anode was not weighed. */
export type PhotoSubject = `weighings/${string}` | `haul-outs/${string}`

export function addPhoto(subject: PhotoSubject, photo: File, idempotencyKey: string) {
  const form = new FormData()
  form.set('photo', photo)
  return send(z.unknown(), `/v1/${subject}/photos`, { form, idempotencyKey })
}

/** Follows the job that makes the forecasts anew; once it is done, what was read before is read again. */
export function useRefit(jobId: string | undefined) {
  const queries = useQueryClient()
  const job = useQuery({
    queryKey: ['job', jobId],
    queryFn: ({ signal }) => read(JobView, `/v1/jobs/${jobId}`, signal),
    enabled: jobId !== undefined,
    refetchInterval: ({ state }) => (isOver(state.data) ? false : POLL_MS),
  })
  const over = isOver(job.data)
  useEffect(() => {
    if (over) readAgain(queries)
  }, [over, queries])
  return job.data
}

/** Reads anew what pages show that rests on haul-outs and weighings. */
export function readAgain(queries: QueryClient): void {
  for (const key of TOUCHED) void queries.invalidateQueries({ queryKey: [key] })
}

function isOver(job: JobView | undefined): boolean {
  return job?.state === 'completed' || job?.state === 'failed'
}
