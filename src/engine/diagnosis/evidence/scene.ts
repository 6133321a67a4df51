import type { AnodeHistory } from '../../rates/fleet-history.js'
import type { Anomaly } from '../anomaly.js'
import type { AnodeFacts } from '../fleet-facts.js'
import type { BoatView, FleetView } from './fleet-view.js'

/** One anode of an anomaly with its boat. */
export interface SceneAnode {
  readonly key: string
  readonly boat: BoatView
  readonly history: AnodeHistory | null
  readonly facts: AnodeFacts | null
}

/** An anomaly with the boats and anodes that it concerns: what all evidence is drawn from. */
export interface Scene {
  readonly anomaly: Anomaly
  readonly fleet: FleetView
  readonly boats: readonly BoatView[]
  readonly anodes: readonly SceneAnode[]
  /** First day on which readings can tell of it. */
  readonly from: number
  /** +1 where the anomaly wears faster, −1 slower, 0 where the rate is not what was noticed. */
  readonly sign: -1 | 0 | 1
}

/** Looks up an anomaly's boats and anodes. */
export function sceneOf(anomaly: Anomaly, fleet: FleetView): Scene {
  const anodes = anomaly.anodes.flatMap((key): SceneAnode[] => {
    const boat = fleet.boatOfAnode.get(key)
    if (boat === undefined) return []
    const history = boat.observed?.history.anodes.find((each) => each.key === key) ?? null
    return [{ key, boat, history, facts: boat.facts.anodes.find((each) => each.key === key) ?? null }]
  })
  const named = anomaly.boat === null ? undefined : fleet.boats.get(anomaly.boat)
  const boats = [...new Set([...(named === undefined ? [] : [named]), ...anodes.map(({ boat }) => boat)])]
  const fitted = anodes.flatMap(({ history }) => history?.fittedOn ?? [])
  return {
    anomaly,
    fleet,
    boats,
    anodes,
    from: anomaly.onset?.p10 ?? Math.min(...fitted, Infinity),
    sign: anomaly.direction === 'fast' ? 1 : anomaly.direction === 'slow' ? -1 : 0,
  }
}

/** The anode's name, for a sentence. */
export function nameOf({ key, facts, history }: SceneAnode): string {
  return facts?.anode ?? history?.anode ?? key
}

/** Whether a reading of that day can tell of the anomaly; without a known begin every day can. */
export function isWithin({ from }: Scene, on: number): boolean {
  return from === Infinity || on >= from
}
