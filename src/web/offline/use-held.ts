import { type QueryClient, useQuery, useQueryClient } from '@tanstack/react-query'
import { useEffect } from 'react'
import {
  BOAT_NAMES,
  type BoatAtLift,
  fetchAndHold,
  fetchBoat,
  type Held,
  heldBoats,
  type Kept,
  LIFT_LIST,
  PARTS,
  readHeld,
  readHeldBoat,
  WHO,
} from './held.js'
import { serviceNow } from './service-clock.js'

/** A line on which nothing has come for so long is as good as none. */
const PATIENCE_MS = 12_000
const FRESH_MS = 60_000
const DAY_MS = 86_400_000
/** A boat that was fetched so lately is not fetched ahead again: a bad line has other things to do. */
const HELD_LONG_ENOUGH_MS = 10 * FRESH_MS

/** What is shown: the newest known, whether it was just read, and why not. */
export interface Shown<Value> {
  readonly held: Held<Value> | null
  readonly isFresh: boolean
  /** Neither the phone nor the service has answered yet. */
  readonly isPending: boolean
  readonly error: Error | null
  readonly retry: () => void
}

// Asked whether the phone believes in a network or not, and not paused: what is held is shown meanwhile.
const ALWAYS = { networkMode: 'always', retry: false } as const

const withPatience = (signal: AbortSignal) => AbortSignal.any([signal, AbortSignal.timeout(PATIENCE_MS)])

function useShown<Value>(
  key: readonly string[],
  readKept: () => Promise<Held<Value> | null>,
  fetchNew: (signal: AbortSignal) => Promise<Held<Value>>,
  freshMs: number,
): Shown<Value> {
  const kept = useQuery({ ...ALWAYS, queryKey: ['held', ...key], queryFn: readKept, staleTime: Infinity })
  const fresh = useQuery({
    ...ALWAYS,
    queryKey: ['fresh', ...key],
    queryFn: ({ signal }) => fetchNew(withPatience(signal)),
    staleTime: freshMs,
    refetchOnReconnect: 'always',
  })
  const held = fresh.data ?? kept.data ?? null
  return {
    held,
    isFresh: fresh.data !== undefined && !fresh.isError,
    isPending: held === null && (kept.isPending || fresh.isPending),
    error: fresh.error,
    retry: () => void fresh.refetch(),
  }
}

/** One of the lists that the phone holds. */
function useKept<Value>(kept: Kept<Value>, freshMs: number): Shown<Value> {
  return useShown(
    [kept.key],
    () => readHeld(kept),
    (signal) => fetchAndHold(kept, signal),
    freshMs,
  )
}

/** The planned lifts of these days. */
export const useLiftList = () => useKept(LIFT_LIST, FRESH_MS)
/** Every boat's name, to be found by. */
export const useBoatNames = () => useKept(BOAT_NAMES, DAY_MS)
/** What the organisation fitted lately. */
export const useParts = () => useKept(PARTS, DAY_MS)
/** Who is signed in, as far as the phone knows. */
export const useWho = () => useKept(WHO, FRESH_MS)

/** A boat at the lift, by name or id. */
export function useBoatAtLift(boat: string): Shown<BoatAtLift> {
  return useShown(
    ['boat', boat],
    () => readHeldBoat(boat),
    (signal) => fetchBoat(boat, signal),
    FRESH_MS,
  )
}

/** Boats that are on the phone, the one looked at last first. */
export function useHeldBoats() {
  return useQuery({ ...ALWAYS, queryKey: ['held boats'], queryFn: heldBoats, staleTime: 0 }).data
}

/** Fetches the boats of the list one after the other, so that they are there when the network is not. */
export function useHoldBoats(boats: readonly string[] | undefined): void {
  const queries = useQueryClient()
  const wanted = boats?.join('\n')
  useEffect(() => {
    if (wanted === undefined || wanted === '') return
    const stop = new AbortController()
    void holdAll(queries, wanted.split('\n'), stop.signal)
    return () => stop.abort()
  }, [queries, wanted])
}

async function holdAll(queries: QueryClient, boats: readonly string[], signal: AbortSignal): Promise<void> {
  for (const boat of boats) {
    if (signal.aborted) return
    const held = await readHeldBoat(boat).catch(() => null)
    if (held !== null && serviceNow().getTime() - Date.parse(held.heldAt) < HELD_LONG_ENOUGH_MS) continue
    const queryFn = () => fetchBoat(boat, withPatience(signal))
    await queries.prefetchQuery({ ...ALWAYS, queryKey: ['fresh', 'boat', boat], queryFn, staleTime: FRESH_MS })
  }
  await queries.invalidateQueries({ queryKey: ['held boats'] })
}
