import { z } from 'zod'
import { AnodePage, AnodeView } from '../../contract/anodes.js'
import { BoatPage, BoatView } from '../../contract/boats.js'
import { ForecastItem, ForecastPage } from '../../contract/forecasts.js'
import { HaulOutPage, HaulOutView } from '../../contract/haul-outs.js'
import { Me } from '../../contract/organisations.js'
import { read, readAll } from '../api/http.js'
import type { SignedIn } from '../api/session.js'
import { addDays } from '../wording/days.js'
import { RecentPart, recentParts } from './recent-parts.js'
import { dockToday, serviceNow } from './service-clock.js'
import { phoneStore } from './store.js'

/** Boats that are kept beside those of the list: the ones looked at last. */
const MOST_BOATS = 80
/** Planned lifts shown: those of the days round today, for a lift moves with the weather. Convention. */
const DAYS_BACK = 3
const DAYS_AHEAD = 28
/** Newest fittings that recent parts are made of. */
const PARTS_FROM = 200

/** A boat as it is wanted at the lift. */
export const BoatAtLift = z.object({
  boat: BoatView,
  anodes: z.array(AnodeView),
  forecasts: z.array(ForecastItem),
})
export type BoatAtLift = z.infer<typeof BoatAtLift>

export const BoatName = z.object({ id: z.string(), name: z.string(), berth: z.string().nullable() })
export type BoatName = z.infer<typeof BoatName>

/** Something read, and when the service said so. */
export interface Held<Value> {
  readonly heldAt: string
  readonly value: Value
}

/** A list that the phone keeps: under which name, how it reads, and where it comes from. */
export interface Kept<Value> {
  readonly key: string
  readonly schema: z.ZodType<Value>
  readonly fetch: (signal: AbortSignal) => Promise<Value>
}

export const LIFT_LIST: Kept<HaulOutView[]> = {
  key: 'lift list',
  schema: z.array(HaulOutView),
  fetch: (signal) => {
    const today = dockToday()
    const days = { from: addDays(today, -DAYS_BACK), to: addDays(today, DAYS_AHEAD) }
    const query = new URLSearchParams({ planned: 'true', sort: 'hauledOn', ...days })
    return readAll(HaulOutPage, `/v1/haul-outs?${query}`, signal)
  },
}

export const BOAT_NAMES: Kept<BoatName[]> = {
  key: 'boat names',
  schema: z.array(BoatName),
  fetch: async (signal) => {
    const boats = await readAll(BoatPage, '/v1/boats?sort=name', signal)
    return boats.map(nameOf)
  },
}

function nameOf({ id, name, currentBerth }: BoatView): BoatName {
  return { id, name, berth: currentBerth }
}

export const PARTS: Kept<RecentPart[]> = {
  key: 'recent parts',
  schema: z.array(RecentPart),
  fetch: async (signal) =>
    recentParts((await read(AnodePage, `/v1/anodes?sort=-fittedOn&limit=${PARTS_FROM}`, signal)).items),
}

export const WHO: Kept<SignedIn> = { key: 'who', schema: Me, fetch: (signal) => read(Me, '/v1/me', signal) }

/** Reads anew and keeps it. A phone without room still gets its answer. */
export async function fetchAndHold<Value>({ key, fetch }: Kept<Value>, signal: AbortSignal): Promise<Held<Value>> {
  const held = { value: await fetch(signal), heldAt: serviceNow().toISOString() }
  await keeping(async () => (await phoneStore()).put('held', held, key))
  return held
}

/** What was kept; null where nothing was, or what no longer reads. */
export async function readHeld<Value>({ key, schema }: Kept<Value>): Promise<Held<Value> | null> {
  const row = await (await phoneStore()).get('held', key)
  const parsed = schema.safeParse(row?.value)
  return row !== undefined && parsed.success ? { heldAt: row.heldAt, value: parsed.data } : null
}

/** Reads a boat with its anodes and what is expected of them, and keeps it. */
export async function fetchBoat(nameOrId: string, signal: AbortSignal): Promise<Held<BoatAtLift>> {
  const boat = await read(BoatView, `/v1/boats/${encodeURIComponent(nameOrId)}`, signal)
  const inPlace = new URLSearchParams({ boat: boat.id, inPlaceOn: dockToday(), sort: 'name' })
  const [anodes, forecasts] = await Promise.all([
    readAll(AnodePage, `/v1/anodes?${inPlace}`, signal),
    readAll(ForecastPage, `/v1/forecasts?${new URLSearchParams({ boat: boat.name })}`, signal),
  ])
  const held = { heldAt: serviceNow().toISOString(), value: { boat, anodes, forecasts } }
  await keeping(() => keepBoat(held))
  return held
}

async function keepBoat({ heldAt, value }: Held<BoatAtLift>): Promise<void> {
  const tx = (await phoneStore()).transaction('boats', 'readwrite')
  await tx.store.put({ id: value.boat.id, heldAt, value })
  const all = await tx.store.getAll()
  const oldest = all.toSorted((a, b) => (a.heldAt < b.heldAt ? 1 : -1)).slice(MOST_BOATS)
  for (const { id } of oldest) await tx.store.delete(id)
  await tx.done
}

/** Every boat that was kept, the one looked at last first. */
export async function heldBoats(): Promise<BoatName[]> {
  const rows = await (await phoneStore()).getAll('boats')
  return rows
    .toSorted((a, b) => (a.heldAt < b.heldAt ? 1 : -1))
    .flatMap(({ value }) => {
      const parsed = BoatAtLift.safeParse(value)
      return parsed.success ? [nameOf(parsed.data.boat)] : []
    })
}

/** A boat that was kept, by name or id. */
export async function readHeldBoat(nameOrId: string): Promise<Held<BoatAtLift> | null> {
  for (const { heldAt, value } of await (await phoneStore()).getAll('boats')) {
    const parsed = BoatAtLift.safeParse(value)
    if (parsed.success && (parsed.data.boat.name === nameOrId || parsed.data.boat.id === nameOrId)) {
      return { heldAt, value: parsed.data }
    }
  }
  return null
}

/** Whoever signs in next must not find what this person could read. What waits in the outbox stays: it is theirs. */
export async function forgetHeld(): Promise<void> {
  await keeping(async () => {
    const store = await phoneStore()
    await Promise.all([store.clear('held'), store.clear('boats')])
  })
}

/** What can be fetched again is only kept where that is possible. */
async function keeping(write: () => Promise<unknown>): Promise<void> {
  try {
    await write()
  } catch (error) {
    console.warn('not kept on this phone', error)
  }
}
