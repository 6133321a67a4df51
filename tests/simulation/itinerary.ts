import type { TrueBoat } from './boats.js'
import type { Draws } from './draws.js'
import type { Berth, Sea } from './sea.js'

/** Where a boat is on a day: a berth, ashore, or at sea on a cruise that nobody wrote down. */
export type Whereabouts = Berth | 'ashore' | 'cruise'

export interface Lift {
  /** Days since the start. */
  readonly at: number
  readonly relaunchedAt: number
  readonly isRelaunchKnown: boolean
  /** Written down as a stay ashore, beside the lift. */
  readonly isStayAshore: boolean
}

export interface Itinerary {
  readonly where: readonly Whereabouts[]
  readonly lifts: readonly Lift[]
  /** The day on which the yard looks at the anodes, by lift. */
  readonly looks: ReadonlySet<number>
}

const DAYS_PER_YEAR = 365

/** A boat's days from its arrival on: its home, summers away, moves, lifts and winters ashore. */
export function makeItinerary(draws: Draws, sea: Sea, boat: TrueBoat, home: Berth, days: number): Itinerary {
  const where: Whereabouts[] = []
  let berth = home
  for (let at = 0; at < days; at++) {
    if (draws.chance(sea.setting.movesPerYear / DAYS_PER_YEAR)) berth = draws.pick(sea.berths)
    where.push(berth)
  }
  summersAway(draws, sea, where, boat.arrivesAt)
  const lifts = boat.wintersAshore ? winters(draws, sea, boat, days) : lifted(draws, boat, days)
  const looks = new Set<number>()
  for (const lift of lifts) {
    for (let at = lift.at; at < Math.min(lift.relaunchedAt, days); at++) where[at] = 'ashore'
    looks.add(boat.wintersAshore && draws.chance(0.4) ? Math.min(days - 1, lift.relaunchedAt - 1) : lift.at)
  }
  return { where, lifts, looks }
}

/** The day of the year that a day of the simulation is, shifted by half a year in the south. */
function seasonDay(sea: Sea, at: number): number {
  const shift = sea.coast.latitude < 0 ? 182 : 0
  return (((sea.startDay + at + shift) % 365.25) + 365.25) % 365.25
}

function summersAway(draws: Draws, sea: Sea, where: Whereabouts[], from: number): void {
  const visits = draws.chance(0.5)
  const cruises = draws.chance(0.3)
  for (let year = Math.floor(from / DAYS_PER_YEAR); year * DAYS_PER_YEAR < where.length; year++) {
    const midsummer = year * DAYS_PER_YEAR + 190 - Math.round(seasonDay(sea, 0))
    const away = (place: Whereabouts) => {
      const begin = midsummer + draws.whole(-25, 45)
      const end = Math.min(where.length, begin + draws.whole(7, 30))
      for (let at = Math.max(begin, from + 5); at < end; at++) where[at] = place
    }
    if (visits && draws.chance(0.8)) away(draws.pick(sea.visited))
    if (cruises && draws.chance(0.7)) away('cruise')
  }
}

function winters(draws: Draws, sea: Sea, boat: TrueBoat, days: number): Lift[] {
  const lifts: Lift[] = []
  const isStayAshore = draws.chance(0.5)
  const usual = draws.whole(270, 330)
  for (let at = boat.arrivesAt + 20; at < days; at++) {
    if (Math.abs(seasonDay(sea, at) - usual) >= 0.5) continue
    const hauled = at + draws.whole(-12, 13)
    const relaunchedAt = at + draws.whole(120, 190)
    if (hauled > boat.arrivesAt + 5 && relaunchedAt < days)
      lifts.push({ at: hauled, relaunchedAt, isRelaunchKnown: true, isStayAshore })
    at = relaunchedAt
  }
  return lifts
}

function lifted(draws: Draws, boat: TrueBoat, days: number): Lift[] {
  const between = { yearly: 365, 'half-yearly': 183, 'now and then': 600 }[boat.lifts]
  const lifts: Lift[] = []
  let at = boat.arrivesAt + draws.whole(20, 360)
  while (at < days - 30) {
    const isRelaunchKnown = draws.chance(0.7)
    const relaunchedAt = at + (isRelaunchKnown ? draws.whole(0, 9) : 0)
    lifts.push({ at, relaunchedAt, isRelaunchKnown, isStayAshore: false })
    at += Math.max(60, Math.round(between + draws.normal(between * 0.12)))
  }
  return lifts
}
