import type { AnodeHistory } from '../../rates/fleet-history.js'
import { designAlloy } from '../../reference/anode-alloys.js'
import type { AnodeAlloy, Water } from '../../reference/vocabulary.js'
import type { Said } from '../../said.js'
import { type Evidence, evidence } from './evidence.js'
import { median } from './figures.js'
import type { BoatView } from './fleet-view.js'
import { readingsOf } from './potentials.js'
import { ask, type RecordQuestionCode } from './question-codes.js'
import { nameOf, type Scene, type SceneAnode } from './scene.js'
import { waterDuring } from './water-during.js'

/** Two anodes in place together for less than this were changed at one lift. Convention. */
const LEAST_OVERLAP_DAYS = 30

/** The declared alloy against the water it lay in. */
export function waterFitEvidence(scene: Scene): Evidence[] {
  const water = waterDuring(scene)
  const alloys = scene.anodes.flatMap(({ history }) => history?.alloy ?? [])
  if (water === null || alloys.length === 0) return []
  const worst = alloys.reduce((least, each) => (unsuited(each, water) > unsuited(least, water) ? each : least))
  const { suits } = designAlloy(worst)
  const code = `alloy-in-water/${suits[water]}` as const
  return [evidence('alloy-in-water', alloyInWater(worst, water), code, { alloy: worst, water })]
}

/** The state of `alloy-in-water`. */
export function alloyInWater(alloy: AnodeAlloy, water: Water): string {
  if (designAlloy(alloy).suits[water] === 'yes') return `suits-${water}`
  return alloy === 'magnesium' ? 'magnesium-in-salt' : `${alloy}-in-${water}`
}

function unsuited(alloy: AnodeAlloy, water: Water): number {
  return { yes: 0, limited: 1, no: 2 }[designAlloy(alloy).suits[water]]
}

/** Alloys that were bonded together with the scene's anodes. */
export function bondEvidence(scene: Scene): Evidence[] {
  const bonds = scene.anodes.flatMap((anode) => (anode.history === null ? [] : mixedWith(anode, anode.history)))
  if (bonds.length === 0) {
    const isOne = scene.anodes.some(
      (anode) => anode.history !== null && othersInPlace(anode.boat, anode.history).length > 0,
    )
    return isOne ? [evidence('bond-alloys', 'one-alloy', 'bond/one-alloy', {})] : []
  }
  const certain = bonds.filter(({ isCertain }) => isCertain)
  const { own, other } = (certain[0] ?? bonds[0])!
  const alloys = { alloy: own, other }
  if (certain.length === 0) return [evidence('bond-alloys', 'mixed-bond-unknown', 'bond/unknown', alloys)]
  const expected = certain.some((each) => isAsExpected(scene, each.own, each.other))
  const state = expected ? 'mixed-as-expected' : 'mixed-otherwise'
  return [evidence('bond-alloys', state, 'bond/mixed', alloys)]
}

/** What to ask about mixed alloys whose bond nobody recorded. */
export function bondQuestions(anode: SceneAnode): Said<RecordQuestionCode>[] {
  const bonds = anode.history === null ? [] : mixedWith(anode, anode.history)
  return bonds
    .filter(({ isCertain }) => !isCertain)
    .slice(0, 1)
    .map(({ own, other, name }) =>
      ask('bond/unknown', { anode: nameOf(anode), alloy: own, otherAnode: name, otherAlloy: other }),
    )
}

/** An anode's own potential, read at the anode, where it tells magnesium from the others. */
export function ownPotentialEvidence(scene: Scene): Evidence[] {
  for (const anode of scene.anodes) {
    const declared = anode.history?.alloy ?? null
    const name = nameOf(anode).toLowerCase()
    const volts = readingsOf(scene).flatMap((reading) =>
      reading.boat === anode.boat.boat && reading.fitting?.toLowerCase() === name ? [reading.volts] : [],
    )
    if (declared === null || volts.length === 0) continue
    const middle = median(volts)
    const isMagnesium = middle < MAGNESIUM_BELOW_V
    const state = isMagnesium === (declared === 'magnesium') ? 'declared' : 'another'
    const usual = designAlloy(declared).closedCircuitVAgAgcl
    const values = { anode: nameOf(anode), volts: middle, alloy: declared, usual }
    return [evidence('own-potential', state, 'own-potential', values)]
  }
  return []
}

/** Between aluminium's and magnesium's closed-circuit potentials, in the middle [V against silver/silver chloride]. */
const MAGNESIUM_BELOW_V =
  (designAlloy('aluminium').closedCircuitVAgAgcl + designAlloy('magnesium').closedCircuitVAgAgcl) / 2

/** Below what the most active declared alloy can give, with a margin for the electrode [V]. See `convertPotential`. */
const BEYOND_V = 0.08

/** Whether the bond stands below what its declared alloys can drive it to. */
export function bondPotentialEvidence(scene: Scene): Evidence[] {
  const [boat] = scene.boats
  if (boat === undefined || scene.boats.length !== 1 || waterDuring(scene) === 'fresh') return []
  const volts = readingsOf(scene).flatMap((reading) => (reading.fitting === null ? [reading.volts] : []))
  const alloys = (boat.observed?.history.anodes ?? []).flatMap(({ alloy }) => alloy ?? [])
  if (volts.length === 0 || alloys.length === 0) return []
  const declared = ['aluminium' as const, ...alloys].map((alloy) => designAlloy(alloy).closedCircuitVAgAgcl)
  const lowest = Math.min(...declared)
  const middle = median(volts)
  const state = middle < lowest - BEYOND_V ? 'beyond-declared' : 'reachable'
  return [evidence('bond-potential', state, 'bond-potential', { volts: middle, lowest })]
}

interface MixedBond {
  readonly own: AnodeAlloy
  readonly other: AnodeAlloy
  readonly name: string
  readonly isCertain: boolean
}

/** The anodes of another alloy that were in place with one and not known to be apart from it. */
export function mixedWith({ boat, facts }: SceneAnode, history: AnodeHistory): MixedBond[] {
  if (history.alloy === null || facts?.bonded === false) return []
  const own = history.alloy
  return othersInPlace(boat, history).flatMap((other): MixedBond[] => {
    const bonded = boat.facts.anodes.find(({ key }) => key === other.key)?.bonded ?? null
    if (other.alloy === null || other.alloy === own || bonded === false) return []
    return [{ own, other: other.alloy, name: other.anode, isCertain: bonded === true && facts?.bonded === true }]
  })
}

function othersInPlace(boat: BoatView, history: AnodeHistory): AnodeHistory[] {
  return (boat.observed?.history.anodes ?? []).filter(
    (other) => other.key !== history.key && overlapDays(other, history) >= LEAST_OVERLAP_DAYS,
  )
}

function overlapDays(one: AnodeHistory, other: AnodeHistory): number {
  const from = Math.max(one.fittedOn ?? -Infinity, other.fittedOn ?? -Infinity)
  const to = Math.min(one.removedOn ?? Infinity, other.removedOn ?? Infinity)
  return to - from
}

/** The more active alloy is the one that wastes, the other the one that is spared. */
function isAsExpected({ sign }: Scene, own: AnodeAlloy, other: AnodeAlloy): boolean {
  const ownIsMoreActive = designAlloy(own).closedCircuitVAgAgcl < designAlloy(other).closedCircuitVAgAgcl
  return sign === 0 || sign > 0 === ownIsMoreActive
}
