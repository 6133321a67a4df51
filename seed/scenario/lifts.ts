import { dice } from '../random.js'
import type { Boat } from './boats.js'
import { addDays, daysBetween, yearOf } from './calendar.js'

/** A haul-out with the day the boat goes (or is to go) back into the water. */
export interface Lift {
  on: string
  relaunchOn: string
}

const DAYS_PER_YEAR = 365.25
const NEWCOMER_DAYS = 19
/** Two lifts nearer than this are one. */
const APART_DAYS = 30
/** The yard's book does not reach further. */
const BOOKED_DAYS = 400

/** The first day that the records of a boat know. */
export function firstDay(boat: Boat, today: string): string {
  return addDays(today, boat.years > 0 ? -boat.years * DAYS_PER_YEAR : -NEWCOMER_DAYS)
}

/** All lifts of a boat up to today, the first on its first day, and the next one planned, if any. */
export function liftsOf(boat: Boat, today: string): { done: Lift[]; planned: Lift | undefined } {
  const first = firstDay(boat, today)
  const all = boat.habit === 'winter-ashore' ? winters(boat, first, today) : shortLifts(boat, today)
  const done = [arrival(boat, first, all)]
  for (const lift of all.filter((candidate) => candidate.on <= today)) {
    if (daysBetween(done.at(-1)!.relaunchOn, lift.on) >= APART_DAYS) done.push(lift)
  }
  const next = booked(boat, today) ?? all.find((lift) => lift.on > today && daysBetween(today, lift.on) <= BOOKED_DAYS)
  return { done, planned: boat.nextLiftPlanned ? next : undefined }
}

function booked(boat: Boat, today: string): Lift | undefined {
  return boat.nextLiftInDays === undefined ? undefined : short(boat, addDays(today, boat.nextLiftInDays))
}

/** A boat that arrives in winter stays ashore till spring; others get their anodes in a two-day lift, the newcomer none. */
function arrival(boat: Boat, first: string, all: readonly Lift[]): Lift {
  if (boat.years === 0) return { on: first, relaunchOn: first }
  const winter = all.find((lift) => lift.on <= first && first < lift.relaunchOn)
  return { on: first, relaunchOn: winter?.relaunchOn ?? addDays(first, 2) }
}

function winters(boat: Boat, first: string, today: string): Lift[] {
  const own = dice(boat.boat, 'winter')
  const outDay = own.between(0, 62)
  const backDay = own.between(0, 48)
  const lifts: Lift[] = []
  for (let year = yearOf(first) - 1; year <= yearOf(today) + 1; year += 1) {
    const chance = dice(boat.boat, 'winter', year)
    const on = addDays(`${year}-10-01`, outDay + chance.between(-6, 6))
    const relaunchOn = addDays(`${year + 1}-03-12`, backDay + chance.between(-5, 5))
    // Some winters are spent afloat, with a few days of scrubbing in spring.
    lifts.push(chance.chance(0.1) ? { on: addDays(relaunchOn, -4), relaunchOn } : { on, relaunchOn })
  }
  return lifts
}

const DAYS_BETWEEN_LIFTS = { afloat: 362, 'half-yearly': 180, irregular: 520 } as const

function shortLifts(boat: Boat, today: string): Lift[] {
  if (boat.liftsDaysAgo !== undefined) {
    const known = boat.liftsDaysAgo.map((daysAgo) => short(boat, addDays(today, -daysAgo)))
    return [...known, short(boat, addDays(today, 150))]
  }
  if (boat.lastLiftDaysAgo === undefined || boat.habit === 'winter-ashore') return []
  const every = DAYS_BETWEEN_LIFTS[boat.habit]
  const lifts: Lift[] = []
  for (let n = Math.ceil(2200 / every); n >= -1; n -= 1) {
    const wobble = n <= 0 ? 0 : dice(boat.boat, 'lift', n).between(-0.06, 0.06) * every
    lifts.push(short(boat, addDays(today, -(boat.lastLiftDaysAgo + n * every + wobble))))
  }
  return lifts.filter((lift) => lift.on > firstDay(boat, today))
}

function short(boat: Boat, on: string): Lift {
  // The length depends on the place in the year, not on the date itself, so that it is settled for each lift alone.
  return { on, relaunchOn: addDays(on, dice(boat.boat, 'short', on.slice(5)).between(1, 6)) }
}
