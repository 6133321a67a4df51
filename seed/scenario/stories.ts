import type { Alloy } from './anode-bodies.js'

/** What a story may look at: one mount of one boat on one day. Days count back from today, so that the demo never ages. */
export interface Moment {
  boat: string
  mount: string
  bonded: boolean
  daysAgo: number
  shoreHours: number
}

/** The charger of Second Kettle was replaced a few days after its lift 205 days ago; the boat came out again at 52. */
export const CHARGER_WIRED_DAYS_AGO = 200

/** The cable along Gannet was repaired badly. */
export const CABLE_FAULT_DAYS_AGO = 330

/** Left on shore power day and night without an isolator: these three carry the whole pontoon's leakage. */
export const GANNET_THREE: readonly string[] = ['Cinder Gull', 'Mistral Penny', 'Pewter Moon']

/** The keen new crew of Plover's Errand antifouled everything under water, its shaft collar too. */
const PAINTED_DAYS_AGO = 600

/** The through-bolt of the hull anode on Tolliver turns in its hole. */
const LOOSE_DAYS_AGO = 560

/** Someone gave the owner of Windfall Annie a box of anodes meant for lakes. */
const LAKE_ANODES_DAYS_AGO = 520

/** A cheap hub cone, sold to Sea Bramble as zinc. */
const CHEAP_CONE_DAYS_AGO = 800

/** Bellwether Jane touched the wall: half her rudder anode stayed there. */
const WALL_DAYS_AGO = 200

/** How much faster than usual an anode wastes in its story; 1 for all others. */
export function storyFactor({ boat, mount, bonded, daysAgo, shoreHours }: Moment): number {
  // From the boat's own battery: every bonded anode suffers, the neighbours nothing. A year's anode is spent in five months.
  if (boat === 'Second Kettle' && daysAgo <= CHARGER_WIRED_DAYS_AGO) return bonded ? 4.2 : 1.05
  // Through the earth wire of the shore lead: only while it is plugged in.
  if (GANNET_THREE.includes(boat) && daysAgo <= CABLE_FAULT_DAYS_AGO) return bonded ? 1 + 1.7 * (shoreHours / 24) : 1
  if (boat === "Plover's Errand" && mount === 'shaft' && daysAgo <= PAINTED_DAYS_AGO) return 0.05
  if (boat === 'Tolliver' && mount === 'hull' && daysAgo <= LOOSE_DAYS_AGO) return 0.08
  return 1
}

/** A share broken off at once on one day; 0 on all others. */
export function lossByBlow({ boat, mount, daysAgo }: Moment): number {
  return boat === 'Bellwether Jane' && mount === 'rudder' && daysAgo === WALL_DAYS_AGO ? 0.55 : 0
}

/** Alloy stamped on the piece and the one it was cast from. */
export interface Casting {
  declared: Alloy
  real: Alloy
}

/** The casting that a story puts on a mount, or nothing if the chandler's usual choice is fitted. */
export function storyCasting(boat: string, mount: string, fittedDaysAgo: number): Casting | undefined {
  if (boat === 'Windfall Annie' && mount === 'hull' && fittedDaysAgo <= LAKE_ANODES_DAYS_AGO) {
    return { declared: 'magnesium', real: 'magnesium' }
  }
  if (boat === 'Sea Bramble' && mount === 'propeller hub' && fittedDaysAgo <= CHEAP_CONE_DAYS_AGO) {
    return { declared: 'zinc', real: 'aluminium' }
  }
  return undefined
}

/** Condition codes that someone with eyes would note, or nothing where no story shows. */
export function storyConditions(moment: Moment): readonly string[] | undefined {
  const { boat, mount, bonded, daysAgo } = moment
  if (boat === 'Second Kettle' && bonded && daysAgo < CHARGER_WIRED_DAYS_AGO) return ['bright', 'sharp-edged']
  if (GANNET_THREE.includes(boat) && bonded && daysAgo < CABLE_FAULT_DAYS_AGO) return ['bright', 'undercut']
  if (boat === "Plover's Errand" && mount === 'shaft' && daysAgo <= PAINTED_DAYS_AGO) return ['painted', 'pitted']
  if (boat === 'Tolliver' && mount === 'hull' && daysAgo <= LOOSE_DAYS_AGO) return ['loose', 'scaled']
  if (boat === 'Windfall Annie' && mount === 'hull' && daysAgo < LAKE_ANODES_DAYS_AGO)
    return ['bright', 'paint-blistered']
  if (boat === 'Bellwether Jane' && mount === 'rudder' && daysAgo < WALL_DAYS_AGO && daysAgo > WALL_DAYS_AGO - 150) {
    return ['broken']
  }
  return undefined
}
