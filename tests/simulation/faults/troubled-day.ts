import { currentOn, type Drive, exposed, lose, type TrueAnode } from '../anode-life.js'
import type { Whereabouts } from '../itinerary.js'
import { DRIVING } from './galvanic-truth.js'
import type { LossLedger } from './loss-ledger.js'
import type { Trouble } from './trouble.js'

/** One day of a boat, its trouble and its ledger of losses. */
export interface TroubledDay {
  readonly drive: Drive
  readonly trouble: Trouble
  readonly ledger: LossLedger
  readonly where: Whereabouts
  readonly at: number
}

/** Wears the anodes in place for one day, and notes what they would have lost if nothing were wrong. */
export function wearTroubledDay(day: TroubledDay, anodes: readonly TrueAnode[]): void {
  const { drive, trouble, ledger, where, at } = day
  if (where === 'ashore') return
  trouble.strike(anodes, at)
  if (trouble.isOnTheBoat && trouble.current(where, at) !== 1) trouble.share(anodes, at)
  // Before a piece is gone: the healthy ones keep it.
  for (const anode of anodes) ledger.healthy(anode)
  breakOff(day, anodes)
  const water = where === 'cruise' ? 'salt' : where.water
  const currentA = currentOn(drive, where, at)
  const truly = currentsOf(day, currentA * trouble.current(where, at), anodes, {
    contact: (anode) => trouble.contact(anode, at),
    activity: (anode) => trouble.activity(anode, anodes, at),
  })
  const asHealthy = anodes.map((anode) => ledger.healthy(anode))
  const healthy = currentsOf(day, currentA, asHealthy, {
    contact: () => 1,
    activity: (anode) => DRIVING[drive.boat.alloy] / DRIVING[anode.alloy],
  })
  anodes.forEach((anode, index) => {
    const before = anode.massG
    lose(asHealthy[index]!, healthy[index]! * trouble.healthyBehaviour(anode, water, at), at)
    lose(anode, truly[index]! * trouble.behaviour(anode, water, at), at)
    ledger.note(anode, before - anode.massG)
  })
}

/** A piece breaks off on the day on which the fault strikes. */
function breakOff({ trouble, ledger, at }: TroubledDay, anodes: readonly TrueAnode[]): void {
  if (trouble.fault?.cause !== 'mechanical-loss') return
  for (const anode of anodes) {
    if (trouble.affected.get(anode) !== at) continue
    const left = anode.massG * trouble.fault.factor
    ledger.note(anode, anode.massG - left)
    anode.massG = left
  }
}

interface Parts {
  contact(anode: TrueAnode): number
  activity(anode: TrueAnode): number
}

/** Currents of each anode [A]: what one no longer gives, the others make up for in part. */
function currentsOf(
  { drive, at }: TroubledDay,
  currentA: number,
  anodes: readonly TrueAnode[],
  parts: Parts,
): number[] {
  const able = anodes.map((anode) => anode.weight * exposed(anode) * parts.contact(anode))
  const pulls = anodes.map((anode, index) => able[index]! * parts.activity(anode))
  const whole = sum(anodes.map(({ weight }) => weight))
  const pull = sum(pulls)
  if (pull <= 0) return anodes.map(() => 0)
  const taken = currentA * (sum(able) / whole) ** drive.sea.setting.notMadeUp
  return anodes.map((anode, index) => ((taken * pulls[index]!) / pull) * Math.exp(anode.shocks[at]!))
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
