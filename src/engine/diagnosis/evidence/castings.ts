import type { ObservedAnode } from '../../rates/mass-states.js'
import { designAlloy } from '../../reference/anode-alloys.js'
import { ANODE_ALLOYS, type AnodeAlloy } from '../../reference/vocabulary.js'
import { SAME_LIFT_DAYS } from '../same-lift.js'
import { groupBy } from './groups.js'
import { place } from './places-of-anodes.js'

/** What an anode weighed when new beside the mould that its place's anodes come from. */
export interface Casting {
  /** Its mass over that of the mould in the declared alloy. */
  readonly ratio: number
  readonly weighsAs: 'declared' | 'another'
  /** Anodes of other places that were fitted at the same lift weigh as another alloy too, and they are most of those that can be told. */
  readonly isTogether: boolean
}

/** Castings of one mould weigh alike by this, on the log scale. Convention: alloys of one metal differ by a few percent, so do fillings. */
const ALIKE_LOG = 0.12
/** As large a difference, and it is another size rather than the same mould. Convention. */
const SAME_SIZE_LOG = 0.22

/**
 * Finds the mould of each place from the masses of all anodes that sat there, and what each weighs in it: an aluminium anode of the mould of
 * a zinc one has 0.39 of its mass. No alloy is as light against aluminium, so that the direction of a jump tells which side of it is
 * wrong. Compared are anodes of the same place that are declared to be of the same alloy.
 *
 * @param anodes of one boat
 * @returns by key; anodes without another to compare with, and sizes that fit no alloy, are left out
 * @see reference `anode-alloys` for the densities
 */
export function castingsOf(anodes: readonly ObservedAnode[]): Map<string, Casting> {
  const alike = groupBy(anodes, (anode) => `${place(anode)}\n${anode.fitted.alloy}`)
  // What fits no other anode of its place is a size of its own.
  const told = [...alike.values()].map(weighedInMould).flatMap((own) => (own.length > 1 ? own : []))
  return new Map(
    told.map(({ anode, ratio, weighsAs }) => [
      anode.history.key,
      { ratio, weighsAs, isTogether: weighsAs === 'another' && isTogether(anode, told) },
    ]),
  )
}

interface Weighed extends Pick<Casting, 'ratio' | 'weighsAs'> {
  readonly anode: ObservedAnode
}

/** The mould that explains most of the masses; of two, the one that has most of them in the declared alloy. */
function weighedInMould(anodes: readonly ObservedAnode[]): Weighed[] {
  const moulds = anodes.map(({ fitted: { netMassG } }) => anodes.flatMap((anode) => weighedAgainst(netMassG, anode)))
  return moulds.reduce((best, each) => (scoreOf(each) > scoreOf(best) ? each : best))
}

function scoreOf(weighed: readonly Weighed[]): number {
  return weighed.length + weighed.filter(({ weighsAs }) => weighsAs === 'declared').length / (weighed.length + 1)
}

function weighedAgainst(mouldG: number, anode: ObservedAnode): Weighed[] {
  const ratio = anode.fitted.netMassG / mouldG
  if (Math.abs(Math.log(ratio)) <= SAME_SIZE_LOG) return [{ anode, ratio, weighsAs: 'declared' }]
  return fitsAnotherAlloy(ratio, anode.fitted.alloy ?? 'zinc') ? [{ anode, ratio, weighsAs: 'another' }] : []
}

function fitsAnotherAlloy(ratio: number, declared: AnodeAlloy): boolean {
  return ANODE_ALLOYS.some((alloy) => {
    const log = Math.log(designAlloy(alloy).densityGPerCm3 / designAlloy(declared).densityGPerCm3)
    return Math.abs(log) > SAME_SIZE_LOG && Math.abs(Math.log(ratio) - log) <= ALIKE_LOG
  })
}

function isTogether(anode: ObservedAnode, told: readonly Weighed[]): boolean {
  const fittedWith = told.filter((other) => isOneLift(anode, other.anode))
  const another = fittedWith.filter(({ weighsAs }) => weighsAs === 'another')
  const places = new Set(another.map((other) => place(other.anode)))
  return places.size > 1 && 2 * another.length > fittedWith.length
}

function isOneLift(one: ObservedAnode, other: ObservedAnode): boolean {
  return Math.abs(one.states[0]!.on - other.states[0]!.on) <= SAME_LIFT_DAYS
}
