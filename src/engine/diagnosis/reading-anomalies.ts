import { designAlloy } from '../reference/anode-alloys.js'
import type { Anomaly } from './anomaly.js'
import { mixedWith } from './evidence/fitted-alloys.js'
import type { BoatView, FleetView } from './evidence/fleet-view.js'
import { gatherEvidence } from './evidence/gather.js'
import { type Scene, sceneOf } from './evidence/scene.js'
import { waterDuring } from './evidence/water-during.js'

/** States that show a fault by themselves, whatever the rate. What is merely unusual (crusted, pitted) is left to back up a rate. */
const TELLING: Readonly<Record<string, readonly string[]>> = {
  breakage: ['broken', 'missing'],
  'joint-look': ['loose'],
  'paint-look': ['painted'],
  'contact-resistance': ['high'],
  density: ['another'],
  'own-potential': ['another'],
  'shore-lead-shift': ['clear'],
  'circuit-shift': ['clear'],
}
/** Of these, the ones that are the whole boat's. */
const OF_THE_BOAT: readonly string[] = ['shore-lead-shift', 'circuit-shift']

/** One thing noticed without a rate: the anodes it is about, none where it is the boat's. */
interface Notice {
  readonly kind: string
  readonly anode: string | null
}

/**
 * Anomalies that readings, codes and what is fitted show on boats where no rate does. A boat's own notices and those of its anodes are one
 * anomaly, for one fault shows in many places; notices of one kind on several anodes are one too, of different kinds on different anodes
 * one each.
 *
 * @param fleet rates and facts
 * @param inRates what the rates show: a boat or anode in it needs no second finding
 */
export function anomaliesOfReadings(fleet: FleetView, inRates: readonly Anomaly[]): Anomaly[] {
  const known = new Set(inRates.flatMap(({ anodes }) => anodes))
  const knownBoats = new Set(
    inRates.flatMap(({ boat, anodes }) => [boat, ...anodes.map((key) => fleet.boatOfAnode.get(key)?.boat ?? null)]),
  )
  return [...fleet.boats.values()].flatMap((boat) => {
    const notices = noticesOn(fleet, boat).filter(({ anode }) =>
      anode === null ? !knownBoats.has(boat.boat) : !known.has(anode),
    )
    return merge(boat, notices)
  })
}

function noticesOn(fleet: FleetView, boat: BoatView): Notice[] {
  const ofBoat = telling(sceneOf(blank(boat, []), fleet), (key) => OF_THE_BOAT.includes(key))
  const ofAnodes = (boat.observed?.history.anodes ?? []).flatMap(({ key }) => {
    const scene = sceneOf(blank(boat, [key]), fleet)
    const kinds = telling(scene, (observation) => !OF_THE_BOAT.includes(observation))
    return [...kinds, ...fittedWrongly(scene)].map((kind) => ({ kind, anode: key }))
  })
  return [...ofBoat.map((kind) => ({ kind, anode: null })), ...ofAnodes]
}

function telling(scene: Scene, isWanted: (observation: string) => boolean): string[] {
  return gatherEvidence(scene, [])
    .filter(({ observation, state }) => isWanted(observation) && TELLING[observation]?.includes(state))
    .map(({ observation }) => observation)
}

/** An alloy that the water rules out, or that is bonded together with another. */
function fittedWrongly(scene: Scene): string[] {
  const [anode] = scene.anodes
  const history = anode?.history
  if (anode === undefined || history == null || history.alloy === null) return []
  const water = waterDuring(scene)
  const isUnsuited = water !== null && designAlloy(history.alloy).suits[water] === 'no'
  const isMixed = mixedWith(anode, history).some(({ isCertain }) => isCertain)
  return [...(isUnsuited ? ['alloy-in-water'] : []), ...(isMixed ? ['bond-alloys'] : [])]
}

function merge(boat: BoatView, notices: readonly Notice[]): Anomaly[] {
  if (notices.length === 0) return []
  const anodes = [...new Set(notices.flatMap(({ anode }) => anode ?? []))]
  const isOne = notices.some(({ anode }) => anode === null) || notices.some(({ kind }) => kind === 'bond-alloys')
  if (isOne) return [blank(boat, anodes)]
  const groups: string[][] = []
  for (const key of anodes) {
    const kinds = kindsOf(notices, key)
    const group = groups.find((keys) =>
      keys.some((other) => kindsOf(notices, other).some((kind) => kinds.includes(kind))),
    )
    if (group === undefined) groups.push([key])
    else group.push(key)
  }
  return groups.map((keys) => blank(boat, keys))
}

function kindsOf(notices: readonly Notice[], key: string): string[] {
  return notices.filter(({ anode }) => anode === key).map(({ kind }) => kind)
}

/** An anomaly noticed otherwise than by mass. */
function blank({ boat }: BoatView, anodes: readonly string[]): Anomaly {
  const scope = anodes.length === 1 ? 'anode' : 'boat'
  return {
    scope,
    boat,
    berth: null,
    pontoon: null,
    anodes,
    direction: 'other',
    noticedBy: 'reading',
    onset: null,
    surprise: 0,
    adjustedP: null,
    logRatio: null,
    shares: { anode: scope === 'anode' ? 1 : 0, boat: scope === 'boat' ? 1 : 0, berth: 0, pontoon: 0 },
  }
}
