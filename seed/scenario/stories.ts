import type { Alloy } from './anode-bodies.js'

/** What a story may look at: one mount of one boat on one day. Days count back from today, so that the demo never ages. */
export interface Moment {
  boat: string
  mount: string
  bonded: boolean
  /** When the anode there was fitted. */
  fittedDaysAgo: number
  daysAgo: number
  shoreHours: number
}

/** The charger of Second Kettle was replaced a few days after its lift 205 days ago; the boat came out again at 52. */
export const CHARGER_WIRED_DAYS_AGO = 200

/** The cable along Gannet was repaired badly. */
export const CABLE_FAULT_DAYS_AGO = 330

/** Left on shore power day and night without an isolator: these three carry the whole pontoon's leakage. */
export const GANNET_THREE: readonly string[] = ['Cinder Gull', 'Mistral Penny', 'Pewter Moon']

/**
 * Stories that begin with new pieces: at the first lift since so many days ago these mounts get them, worn or not.
 *
 * - Plover's Errand: a keen new crew antifouls everything under water, the new shaft collar too.
 * - Tolliver: the bolt of the new hull anode turns in its hole.
 * - Windfall Annie: someone gave the owner a box of anodes meant for lakes.
 * - Sea Bramble: a cheap hub cone, sold as zinc.
 * - Fennimore: has moved into the fresh basin, and goes on with the zinc it knows.
 */
const RENEWED: Readonly<Record<string, { mounts: readonly string[]; sinceDaysAgo: number }>> = {
  "Plover's Errand": { mounts: ['shaft'], sinceDaysAgo: 760 },
  Tolliver: { mounts: ['hull'], sinceDaysAgo: 760 },
  'Windfall Annie': { mounts: ['hull'], sinceDaysAgo: 700 },
  'Sea Bramble': { mounts: ['propeller hub'], sinceDaysAgo: 800 },
  Fennimore: { mounts: ['shaft', 'propeller hub', 'hull'], sinceDaysAgo: 855 },
}

const NOTHING_RENEWED: (typeof RENEWED)[string] = { mounts: [], sinceDaysAgo: 0 }

/** Bellwether Jane touched the wall: half her rudder anode stayed there. */
const WALL_DAYS_AGO = 200

/** Pewter Moon's shaft was read with the leads the other way round at the older survey: the minus sign is missing. */
export function isReadWithoutSign(boat: string, daysAgo: number): boolean {
  return boat === 'Pewter Moon' && daysAgo > CABLE_FAULT_DAYS_AGO
}

/** How much faster than usual an anode wastes in its story; 1 for all others. */
export function storyFactor(moment: Moment): number {
  const { boat, bonded, daysAgo, shoreHours } = moment
  // From the boat's own battery: every bonded anode suffers, the neighbours nothing. A year's anode is spent in five months.
  if (boat === 'Second Kettle' && daysAgo <= CHARGER_WIRED_DAYS_AGO) return bonded ? 5 : 1
  // Through the earth wire of the shore lead: only while it is plugged in.
  if (GANNET_THREE.includes(boat) && daysAgo <= CABLE_FAULT_DAYS_AGO) return bonded ? 1 + 1.7 * (shoreHours / 24) : 1
  if (isPainted(moment)) return 0.05
  if (isLoose(moment)) return 0.08
  return 1
}

/** Whether the anode is one of the new pieces that its boat's story begins with. */
function isNewPiece({ boat, mount, fittedDaysAgo }: Pick<Moment, 'boat' | 'mount' | 'fittedDaysAgo'>): boolean {
  const { mounts, sinceDaysAgo } = RENEWED[boat] ?? NOTHING_RENEWED
  return mounts.includes(mount) && fittedDaysAgo <= sinceDaysAgo
}

function isPainted(moment: Moment): boolean {
  return moment.boat === "Plover's Errand" && isNewPiece(moment)
}

function isLoose(moment: Moment): boolean {
  return moment.boat === 'Tolliver' && isNewPiece(moment)
}

/** Whether a story has the anode renewed at a lift on this day, however little it is worn. */
export function isRenewedByStory(moment: Moment): boolean {
  return isNewPiece({ ...moment, fittedDaysAgo: moment.daysAgo }) && !isNewPiece(moment)
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
  if (!isNewPiece({ boat, mount, fittedDaysAgo })) return undefined
  if (boat === 'Windfall Annie') return { declared: 'magnesium', real: 'magnesium' }
  if (boat === 'Sea Bramble') return { declared: 'zinc', real: 'aluminium' }
  return undefined
}

/** Condition codes that someone with eyes would note, or nothing where no story shows. */
export function storyConditions(moment: Moment): readonly string[] | undefined {
  const { boat, mount, bonded, daysAgo } = moment
  if (boat === 'Second Kettle' && bonded && daysAgo < CHARGER_WIRED_DAYS_AGO) return ['bright', 'sharp-edged']
  if (GANNET_THREE.includes(boat) && bonded && daysAgo < CABLE_FAULT_DAYS_AGO) return ['bright', 'undercut']
  if (isPainted(moment)) return ['painted', 'pitted']
  if (isLoose(moment)) return ['loose', 'scaled']
  if (boat === 'Windfall Annie' && isNewPiece(moment)) return ['bright', 'paint-blistered']
  if (boat === 'Bellwether Jane' && mount === 'rudder' && daysAgo < WALL_DAYS_AGO && daysAgo > WALL_DAYS_AGO - 150) {
    return ['broken']
  }
  return undefined
}
