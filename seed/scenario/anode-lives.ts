import { dice } from '../random.js'
import { type Alloy, netMassG } from './anode-bodies.js'
import type { Boat } from './boats.js'
import { addDays, daysBetween } from './calendar.js'
import { berthNamed } from './harbour.js'
import type { Lift } from './lifts.js'
import { type Mount, OUTFITS, type Outfit } from './outfits.js'
import type { Stay } from './stays.js'
import { isRenewedByStory, storyCasting } from './stories.js'
import { netAfter, type Wearing } from './wear.js'
import { type Sight, type Weighing, weigh } from './weighings.js'

/** One anode from fitting to removal, and all that was ever noted of it. */
export interface Anode {
  boat: string
  anode: string
  mount: Mount
  declared: Alloy
  fittedOn: string
  removedOn?: string
  grossG: number
  /** The metal it is really cast from, and its true net mass when new: never in the files. */
  wearing: Wearing
  weighings: Weighing[]
}

/** Everything that one boat lives through, up to today. */
export interface Years {
  boat: Boat
  lifts: readonly Lift[]
  stays: readonly Stay[]
  today: string
}

interface Occasion {
  on: string
  kind: Sight['occasion']
  /** Where a lift leads to a new anode, the day it goes on. */
  changeOn?: string
}

export function mountsOf(boat: Boat): readonly Mount[] {
  const outfit: Outfit = OUTFITS[boat.outfit]
  return outfit.mounts.filter((mount) => !boat.without?.includes(mount.mount))
}

/** All anodes that a mount has carried, oldest first. */
export function anodesAt(mount: Mount, years: Years): Anode[] {
  const anodes = [newAnode(mount, years, years.lifts[0]!.on, 1)]
  let netG = anodes[0]!.wearing.newNetG
  let since = anodes[0]!.fittedOn
  for (const occasion of occasionsAt(mount, years)) {
    const anode = anodes.at(-1)!
    if (occasion.on <= anode.fittedOn) continue
    netG = netAfter(anode.wearing, netG, years.stays, since, occasion.on, years.today)
    since = occasion.on
    const worn = 1 - netG / anode.wearing.newNetG
    const changing =
      occasion.changeOn !== undefined && (worn >= years.boat.changesAt || renewed(anode, occasion, years))
    note(anode, netG, occasion, changing && occasion.changeOn === occasion.on, years)
    if (!changing || occasion.changeOn! > years.today) continue
    // Ashore nothing wastes: taken off in spring, it weighs what it weighed in autumn.
    if (occasion.changeOn! > occasion.on) note(anode, netG, { on: occasion.changeOn!, kind: 'lift' }, true, years)
    anode.removedOn = occasion.changeOn!
    anodes.push(newAnode(mount, years, occasion.changeOn!, anodes.length + 1))
    netG = anodes.at(-1)!.wearing.newNetG
    since = occasion.changeOn!
  }
  return anodes
}

function renewed({ boat, mount, fittedOn }: Anode, { on }: Occasion, { today }: Years): boolean {
  const [fittedDaysAgo, daysAgo] = [daysBetween(fittedOn, today), daysBetween(on, today)]
  return isRenewedByStory({ boat, mount: mount.mount, bonded: mount.bonded, fittedDaysAgo, daysAgo, shoreHours: 0 })
}

/** Lifts after the first, and now and then a diver's look between two of them. */
function occasionsAt(mount: Mount, { boat, lifts, today }: Years): Occasion[] {
  return lifts.flatMap((lift, index) => {
    const next = lifts[index + 1]?.on ?? today
    const chance = dice(boat.boat, 'year', index, lifts.length)
    const inSpring = boat.habit === 'winter-ashore' && chance.chance(0.6)
    const changeOn = inSpring && daysBetween(lift.on, lift.relaunchOn) > 30 ? addDays(lift.relaunchOn, -6) : lift.on
    const dive = addDays(lift.relaunchOn, 0.6 * daysBetween(lift.relaunchOn, next))
    const dived =
      daysBetween(lift.relaunchOn, next) > 180 ? chance.chance(0.25) : boat.boat === 'Second Kettle' && next === today
    const visible = mount.position !== 'heat exchanger'
    return [
      ...(index === 0 ? [] : [{ on: lift.on, kind: 'lift' as const, changeOn }]),
      ...(dived && visible && dive < today ? [{ on: dive, kind: 'dive' as const }] : []),
    ]
  })
}

function newAnode(mount: Mount, { boat, stays, today }: Years, on: string, serial: number): Anode {
  const anode = `${mount.mount} ${serial}`
  const castings = storyCasting(boat.boat, mount.mount, daysBetween(on, today))
  const declared = castings?.declared ?? chandlersChoice(boat, stays, on)
  const alloy = castings?.real ?? declared
  const casting = dice(boat.boat, anode, 'casting').normal(1, 0.012)
  const newNetG = netMassG(alloy, mount.shape, mount) * casting
  const step = newNetG > 3000 ? 10 : newNetG > 300 ? 5 : 1
  const grossG = Math.round((newNetG + mount.coreMassG) / step) * step
  const wearing = { boat: boat.boat, anode, mount, fittedOn: on, alloy, newNetG: grossG - mount.coreMassG }
  return { boat: boat.boat, anode, mount, declared, fittedOn: on, grossG, wearing, weighings: [] }
}

/** What the chandler sells for the water that the boat is going to lie in. */
function chandlersChoice(boat: Boat, stays: readonly Stay[], on: string): Alloy {
  if (boat.alloy !== undefined) return boat.alloy
  const berth = stays.find((stay) => stay.berth !== undefined && (stay.to ?? on) >= on)?.berth ?? boat.berth
  return ({ salt: 'zinc', brackish: 'aluminium', fresh: 'magnesium' } as const)[berthNamed(berth).water]
}

function note(
  anode: Anode,
  netG: number,
  { on, kind }: Occasion,
  removed: boolean,
  { boat, stays, today }: Years,
): void {
  const stay = stays.findLast((s) => s.berth !== undefined && s.from < on)
  const sight: Sight = { on, netG, occasion: kind, removed, today, shoreHours: stay?.shoreHours ?? 0 }
  const water = berthNamed(stay?.berth ?? boat.berth).water
  const weighing = weigh(anode, boat.practice, sight, water)
  if (weighing !== undefined) anode.weighings.push(weighing)
}
