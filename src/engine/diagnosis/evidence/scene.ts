import type { AnodeHistory } from '../../rates/fleet-history.js'
import type { ObservedAnode } from '../../rates/mass-states.js'
import type { Anomaly } from '../anomaly.js'
import type { AnodeFacts } from '../fleet-facts.js'
import { SAME_LIFT_DAYS } from '../same-lift.js'
import type { BoatView, ComparedInterval, FleetView } from './fleet-view.js'

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
  /** Last day on which they can: the last weighing that shows it, where anodes fitted since no longer do; `Infinity` where it goes on. */
  readonly until: number
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
    until: anomaly.direction === 'other' ? Infinity : endOf(anomaly, boats),
    sign: anomaly.direction === 'fast' ? 1 : anomaly.direction === 'slow' ? -1 : 0,
  }
}

/** When wear was as usual again, as far as anodes that are not part of it any more tell. */
function endOf({ anodes, scope }: Anomaly, boats: readonly BoatView[]): number {
  const own = boats.flatMap(({ intervals }) => intervals.filter(({ anode }) => anodes.includes(anode)))
  const positions = new Set(own.map(({ interval }) => interval.context.anode.history.position))
  const last = Math.max(...own.map(({ to }) => to), -Infinity)
  const isOver = boats.some(({ intervals }) =>
    intervals.some(({ anode, from, interval }) => {
      const isThere = scope !== 'anode' || positions.has(interval.context.anode.history.position)
      return isThere && !anodes.includes(anode) && from >= last - SAME_LIFT_DAYS
    }),
  )
  return isOver ? last : Infinity
}

/** The anode's masses as they were read; `undefined` where it was never weighed. */
export function observedAnode({ key, boat }: Pick<SceneAnode, 'key' | 'boat'>): ObservedAnode | undefined {
  return boat.observed?.anodes.find(({ history }) => history.key === key)
}

/** The anode's name, for a sentence. */
export function nameOf({ key, facts, history }: SceneAnode): string {
  return facts?.anode ?? history?.anode ?? key
}

/** Whether a reading of that day can tell of the anomaly; without a known begin or end every day before or after can. */
export function isWithin({ from, until }: Pick<Scene, 'from' | 'until'>, on: number): boolean {
  return (from === Infinity || on >= from) && on <= until
}

/** Whether an interval reaches into the time of the anomaly. */
export function isDuring(
  scene: Pick<Scene, 'from' | 'until'>,
  interval: Pick<ComparedInterval, 'from' | 'to'>,
): boolean {
  return interval.to > scene.from && interval.from < scene.until
}
