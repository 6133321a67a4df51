import { designAlloy } from '../reference/anode-alloys.js'
import { TELLING_READINGS, TELLS_FROM } from '../reference/telling-readings.js'
import type { Anomaly } from './anomaly.js'
import { mixedWith } from './evidence/fitted-alloys.js'
import type { BoatView, FleetView } from './evidence/fleet-view.js'
import { gatherEvidence } from './evidence/gather.js'
import { type Scene, sceneOf } from './evidence/scene.js'
import { waterDuring } from './evidence/water-during.js'
import { faultProbability } from './fault-probability.js'
import { observedOf } from './weigh-evidence.js'

/** One thing noticed without a rate: the anode it is about, `null` where it is the boat's. */
interface Notice {
  readonly kind: string
  readonly anode: string | null
}

/**
 * Anomalies that readings, codes and what is fitted show where no rate does. A boat's own notices and those of its anodes are one
 * anomaly, for one fault shows in many places; so are mixed alloys, which take two anodes; notices of one kind on several anodes are one
 * too, of different kinds on different anodes one each.
 *
 * @param fleet rates and facts
 * @param inRates what the rates show: a boat or an anode in it needs no second finding
 */
export function anomaliesOfReadings(fleet: FleetView, inRates: readonly Anomaly[]): Anomaly[] {
  const known = new Set(inRates.flatMap(({ anodes }) => anodes))
  const knownBoats = new Set(
    inRates.flatMap(({ boat, anodes }) => [boat, ...anodes.map((key) => fleet.boatOfAnode.get(key)?.boat ?? null)]),
  )
  return [...fleet.boats.values()].flatMap((boat) => {
    const notices = noticesOn(fleet, boat)
    const isKnown = ({ kind, anode }: Notice) =>
      anode === null || kind === 'bond-alloys' ? knownBoats.has(boat.boat) : known.has(anode)
    return merge(
      boat,
      notices.filter((notice) => !isKnown(notice)),
    )
  })
}

function noticesOn(fleet: FleetView, boat: BoatView): Notice[] {
  const ofBoat = told(sceneOf(anomalyOf(boat, []), fleet), 'boat')
  const ofAnodes = (boat.observed?.history.anodes ?? []).flatMap(({ key }) => {
    const scene = sceneOf(anomalyOf(boat, [key]), fleet)
    return [...told(scene, 'anode'), ...fittedWrongly(scene)].map((kind) => ({ kind, anode: key }))
  })
  return [...ofBoat.map((kind) => ({ kind, anode: null })), ...ofAnodes]
}

/** Faults that the scene's readings show with enough certainty, its rates taken into account. */
function told(scene: Scene, reach: 'anode' | 'boat'): string[] {
  const rows = TELLING_READINGS.filter((row) => row.reach === reach)
  const observed = observedOf(gatherEvidence(scene, []))
  return rows.filter((row) => faultProbability(scene, row, observed) >= TELLS_FROM).map(({ key }) => key)
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
  const isOne = notices.some(({ anode, kind }) => anode === null || kind === 'bond-alloys')
  if (isOne) return [anomalyOf(boat, anodes)]
  const groups: string[][] = []
  for (const key of anodes) {
    const kinds = kindsOf(notices, key)
    const group = groups.find((keys) =>
      keys.some((other) => kindsOf(notices, other).some((kind) => kinds.includes(kind))),
    )
    if (group === undefined) groups.push([key])
    else group.push(key)
  }
  return groups.map((keys) => anomalyOf(boat, keys))
}

function kindsOf(notices: readonly Notice[], key: string): string[] {
  return notices.filter(({ anode }) => anode === key).map(({ kind }) => kind)
}

/** An anomaly noticed otherwise than by mass. */
function anomalyOf({ boat }: BoatView, anodes: readonly string[]): Anomaly {
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
