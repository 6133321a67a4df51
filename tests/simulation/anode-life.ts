import { designAlloy } from '../../src/engine/reference/anode-alloys.js'
import type { AnodeAlloy, Water } from '../../src/engine/reference/vocabulary.js'
import type { Place, TrueBoat } from './boats.js'
import type { Draws } from './draws.js'
import type { Itinerary, Whereabouts } from './itinerary.js'
import type { Sea } from './sea.js'
import type { Setting } from './setting.js'

/** An anode as it truly is, its mass moving day by day. */
export interface TrueAnode {
  readonly name: string
  readonly place: Place
  readonly alloy: AnodeAlloy
  readonly fittedAt: number
  readonly netMassG: number
  readonly coreMassG: number
  /** Share of the current when new, before the neighbours' part [–]. */
  readonly weight: number
  readonly capacityAhPerKg: number
  /** Shocks of its own, by day since the start [log]. */
  readonly shocks: Float64Array
  /** Days [from, to) without contact. */
  readonly contactLost: readonly [number, number] | null
  massG: number
  /** Day on which half was gone, once it is. */
  crossedAt: number | null
}

const HOURS_PER_DAY = 24
const GRAMS_PER_KILOGRAM = 1000
const SURFACE_EXPONENT = 2 / 3
/** Driving voltage to a protected metal at −0.80 V against Ag/AgCl, over zinc's. */
const DRIVING = { zinc: 1, aluminium: 1.1, magnesium: 2.6 } as const

export interface AnodeDraw {
  readonly place: Place
  readonly alloy: AnodeAlloy
  readonly fittedAt: number
  readonly days: number
  readonly name: string
  readonly setting: Setting
}

export function fitAnode(draws: Draws, { place, alloy, fittedAt, days, name, setting }: AnodeDraw): TrueAnode {
  const netMassG = place.netMassG * draws.lognormal(0.008)
  const weight =
    netMassG ** SURFACE_EXPONENT * DRIVING[alloy] * Math.exp(place.logEffect + draws.normal(setting.anodeSd))
  return {
    name,
    place,
    alloy,
    fittedAt,
    netMassG,
    coreMassG: (place.coreShare / (1 - place.coreShare)) * place.netMassG * draws.lognormal(0.02),
    weight,
    capacityAhPerKg: designAlloy(alloy).practicalAhPerKg * draws.lognormal(0.05),
    shocks: makeShocks(draws, setting, days),
    contactLost: lostContact(draws, fittedAt),
    massG: netMassG,
    crossedAt: null,
  }
}

/** Heavy-tailed, one after the other, each for some months. */
function makeShocks(draws: Draws, { shockScale, shockDays }: Setting, days: number): Float64Array {
  const shocks = new Float64Array(days)
  let value = draws.heavyTailed(shockScale, 4)
  for (let at = 0; at < days; at++) {
    if (draws.chance(1 / shockDays)) value = draws.heavyTailed(shockScale, 4)
    shocks[at] = value
  }
  return shocks
}

function lostContact(draws: Draws, fittedAt: number): readonly [number, number] | null {
  if (!draws.chance(0.015)) return null
  const from = fittedAt + draws.whole(0, 200)
  return [from, from + draws.whole(150, 900)]
}

/** What drives a boat's current on a day: all that is not the anodes' own. */
export interface Drive {
  readonly sea: Sea
  readonly boat: TrueBoat
  /** Days [from, to) of a stray current and its factor. */
  readonly stray: { readonly from: number; readonly to: number; readonly factor: number } | null
}

/** Wears the anodes in place for one day at a place in the water. */
export function wearOneDay(drive: Drive, anodes: readonly TrueAnode[], where: Whereabouts, at: number): void {
  if (where === 'ashore') return
  const currentA = currentOn(drive, where, at)
  const water = where === 'cruise' ? 'salt' : where.water
  let whole = 0
  let left = 0
  for (const anode of anodes) {
    whole += anode.weight
    left += anode.weight * exposed(anode)
  }
  if (left <= 0) return
  const taken = currentA * (left / whole) ** drive.sea.setting.notMadeUp
  for (const anode of anodes) {
    const own = (taken * anode.weight * exposed(anode)) / left
    lose(anode, own * Math.exp(anode.shocks[at]!) * behaviour(anode, water, at), at)
  }
}

export function exposed({ massG, netMassG, place }: TrueAnode): number {
  return massG <= 0 ? 0 : (massG / netMassG) ** place.exponent
}

export function currentOn({ sea, boat, stray }: Drive, where: Exclude<Whereabouts, 'ashore'>, at: number): number {
  const berth = where === 'cruise' ? null : where
  const warmer = sea.temperatureC[at]! - sea.coast.meanTemperatureC + (berth?.warmerC ?? 0)
  // A coast's boats keep to its own mean temperature: what differs between coasts is in their common factor.
  let log = boat.perDegree * warmer + boat.wandering[at]! + (berth?.logEffect ?? 0)
  if (berth?.shorePower && !boat.isolator) {
    const share = boat.shoreHours / HOURS_PER_DAY
    log += Math.log(1 + share * (berth.shoreFactor - 1))
  }
  if (stray !== null && at >= stray.from && at < stray.to) log += Math.log(stray.factor)
  return boat.currentA * Math.exp(log)
}

/** An alloy out of its water: zinc and aluminium film over in fresh water, magnesium eats itself in salt. */
function behaviour(anode: TrueAnode, water: Water, at: number): number {
  if (anode.contactLost !== null && at >= anode.contactLost[0] && at < anode.contactLost[1]) return 0.03
  const years = (at - anode.fittedAt) / 365
  if (water === 'fresh' && anode.alloy === 'zinc') return 0.6 * Math.exp(-years / 2)
  if (water === 'fresh' && anode.alloy === 'aluminium') return 0.8
  if (water === 'salt' && anode.alloy === 'magnesium') return 1.6
  return 1
}

export function lose(anode: TrueAnode, currentA: number, at: number): void {
  const lossG = (currentA * HOURS_PER_DAY * GRAMS_PER_KILOGRAM) / anode.capacityAhPerKg
  anode.massG = Math.max(0, anode.massG - lossG)
  if (anode.crossedAt === null && anode.massG <= 0.5 * anode.netMassG) anode.crossedAt = at
}

/** The days on which the anodes still in place cross, on from a day, along a way of staying. */
export function crossingsAlong(
  drive: Drive,
  anodes: readonly TrueAnode[],
  where: (at: number) => Whereabouts,
  from: number,
  days: number,
): Map<string, number | null> {
  const copies = anodes.map((anode) => ({ ...anode }))
  for (let at = from; at < days && copies.some(({ crossedAt }) => crossedAt === null); at++)
    wearOneDay(drive, copies, where(at), at)
  return new Map(copies.map(({ name, crossedAt }) => [name, crossedAt]))
}

/** The berth that a forecast takes for granted: that of the day, or the last one before. */
export function homeOn({ where }: Itinerary, at: number): Whereabouts {
  for (let day = at; day >= 0; day--) {
    const place = where[day]!
    if (place !== 'ashore' && place !== 'cruise') return place
  }
  return where[0]!
}
