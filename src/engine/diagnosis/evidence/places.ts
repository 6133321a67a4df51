import type { ComparedInterval } from './fleet-view.js'
import { isDuring, type Scene } from './scene.js'

/** Berths that share a scene's place: its own, or those of the pontoons it lies on. */
export function placesOf(scene: Scene): Set<string> {
  const { anomaly, fleet } = scene
  const own = anomaly.berth !== null ? [anomaly.berth] : berthsDuring(scene)
  const ofOwn = own.flatMap((berth) => fleet.berths.get(berth)?.pontoon ?? [])
  const pontoons = new Set(anomaly.pontoon !== null ? [anomaly.pontoon] : ofOwn)
  const beside = [...fleet.berths.values()].filter(({ pontoon }) => pontoon !== null && pontoons.has(pontoon))
  return new Set([...own, ...beside.map(({ berth }) => berth)])
}

/** Whether most of an interval was spent at one of those berths. */
export function isMostlyAt({ interval }: ComparedInterval, places: ReadonlySet<string>): boolean {
  const { byBerth, days } = interval.context.exposure
  let there = 0
  for (const [berth, share] of byBerth) if (places.has(berth)) there += share
  return there > days / 2
}

/** Berths at which the scene's boats lay while it lasted. */
function berthsDuring(scene: Scene): string[] {
  const during = scene.boats.flatMap(({ intervals }) => intervals.filter((each) => isDuring(scene, each)))
  return [...new Set(during.flatMap(({ interval }) => [...interval.context.exposure.byBerth.keys()]))]
}
