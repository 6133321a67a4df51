import type { HaulOutView } from '../../../contract/haul-outs.js'
import type { BoatName } from '../../offline/held.js'
import { addDays } from '../../wording/days.js'

/** A boat that is, was or will be lifted by plan. */
export interface ListedBoat {
  readonly name: string
  readonly on: string
  readonly when: 'today' | 'earlier' | 'soon'
}

/** How far ahead somebody at the lift looks, and at how many. Convention. */
const DAYS_AHEAD = 28
const MOST_AHEAD = 12

/** The planned lifts that matter today: today's, earlier ones without a relaunch, the next ones. */
export function listedBoats(planned: readonly HaulOutView[], today: string): ListedBoat[] {
  const last = addDays(today, DAYS_AHEAD)
  const listed = planned.flatMap(({ boat, hauledOn, relaunchedOn }): ListedBoat[] => {
    if (hauledOn === today) return [{ name: boat, on: hauledOn, when: 'today' }]
    if (hauledOn > today) return hauledOn <= last ? [{ name: boat, on: hauledOn, when: 'soon' }] : []
    return relaunchedOn === null ? [{ name: boat, on: hauledOn, when: 'earlier' }] : []
  })
  const ahead = listed.filter(({ when }) => when === 'soon')
  return [...listed.filter(({ when }) => when !== 'soon'), ...ahead.slice(0, MOST_AHEAD)]
}

/** Boats by part of their name or by their berth; those that begin with it first. Case and accents do not count. */
export function boatsFound(boats: readonly BoatName[], search: string): BoatName[] {
  const wanted = plain(search.trim())
  if (wanted === '') return []
  const found = boats.filter(({ name, berth }) => plain(name).includes(wanted) || plain(berth ?? '') === wanted)
  return found.toSorted((a, b) => Number(plain(b.name).startsWith(wanted)) - Number(plain(a.name).startsWith(wanted)))
}

function plain(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase()
}
