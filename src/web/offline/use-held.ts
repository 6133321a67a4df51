import { type QueryClient, useQuery, useQueryClient } from '@tanstack/react-query'
import { useEffect } from 'react'
import { Unreachable } from '../api/problem.js'
import type { BoatAtLift, Held, Kept } from './held.js'
import { serviceNow } from './service-clock.js'

/** A line on which nothing has come for so long is as good as none. */
const PATIENCE_MS = 12_000
const FRESH_MS = 60_000
const DAY_MS = 86_400_000
/** A boat that was fetched so lately is not fetched ahead again: a bad line has other things to do. */
const HELD_LONG_ENOUGH_MS = 10 * FRESH_MS

/** All that is kept, with the schemas it is read by: these come after the page itself, which is there to be used meanwhile. */
const keeper = () =>
  import('./held.js').catch((cause: unknown) => {
    throw new Unreachable(cause)
  })
type Keeper = Awaited<ReturnType<typeof keeper>>

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

interface Source<Value> {
  readonly key: readonly string[]
  readonly readKept: (keeper: Keeper) => Promise<Held<Value> | null>
  readonly fetchNew: (keeper: Keeper, signal: AbortSignal) => Promise<Held<Value>>
  readonly freshMs: number
  /** Whether the service is asked yet. */
  readonly isAsked: boolean
}

function useShown<Value>({ key, readKept, fetchNew, freshMs, isAsked }: Source<Value>): Shown<Value> {
  const kept = useQuery({
    ...ALWAYS,
    queryKey: ['held', ...key],
    queryFn: async () => readKept(await keeper()),
    staleTime: Infinity,
  })
  const fresh = useQuery({
    ...ALWAYS,
    queryKey: ['fresh', ...key],
    queryFn: async ({ signal }) => fetchNew(await keeper(), withPatience(signal)),
    staleTime: freshMs,
    refetchOnReconnect: 'always',
    enabled: isAsked,
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

function listOf<Value>(name: string, pick: (keeper: Keeper) => Kept<Value>, freshMs: number) {
  return {
    key: [name],
    readKept: (keeper: Keeper) => keeper.readHeld(pick(keeper)),
    fetchNew: (keeper: Keeper, signal: AbortSignal) => keeper.fetchAndHold(pick(keeper), signal),
    freshMs,
  }
}

const WHO = listOf('who', (keeper) => keeper.WHO, FRESH_MS)
const LIFT_LIST = listOf('lift list', (keeper) => keeper.LIFT_LIST, FRESH_MS)
const BOAT_NAMES = listOf('boat names', (keeper) => keeper.BOAT_NAMES, DAY_MS)
const PARTS = listOf('parts', (keeper) => keeper.PARTS, DAY_MS)

/** Who is signed in, as far as the phone knows. */
export const useWho = () => useShown({ ...WHO, isAsked: true })
/** Nobody's boats are asked for. */
const useIsKnown = () => useWho().held !== null

/** The planned lifts of these days. */
export const useLiftList = () => useShown({ ...LIFT_LIST, isAsked: useIsKnown() })
/** Every boat's name, to be found by. */
export const useBoatNames = () => useShown({ ...BOAT_NAMES, isAsked: useIsKnown() })
/** What the organisation fitted lately. */
export const useParts = () => useShown({ ...PARTS, isAsked: useIsKnown() })

/** A boat at the lift, by name or id. */
export function useBoatAtLift(boat: string): Shown<BoatAtLift> {
  return useShown({
    key: ['boat', boat],
    readKept: (keeper) => keeper.readHeldBoat(boat),
    fetchNew: (keeper, signal) => keeper.fetchBoat(boat, signal),
    freshMs: FRESH_MS,
    isAsked: useIsKnown(),
  })
}

/** Boats that are on the phone, the one looked at last first. */
export function useHeldBoats() {
  return useQuery({
    ...ALWAYS,
    queryKey: ['held boats'],
    queryFn: async () => (await keeper()).heldBoats(),
    staleTime: 0,
  }).data
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
  const { fetchBoat, readHeldBoat } = await keeper()
  for (const boat of boats) {
    if (signal.aborted) return
    const held = await readHeldBoat(boat).catch(() => null)
    if (held !== null && serviceNow().getTime() - Date.parse(held.heldAt) < HELD_LONG_ENOUGH_MS) continue
    const queryFn = () => fetchBoat(boat, withPatience(signal))
    await queries.prefetchQuery({ ...ALWAYS, queryKey: ['fresh', 'boat', boat], queryFn, staleTime: FRESH_MS })
  }
  await queries.invalidateQueries({ queryKey: ['held boats'] })
}
