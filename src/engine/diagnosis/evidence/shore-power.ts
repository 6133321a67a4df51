import { type Evidence, evidence } from './evidence.js'
import { mean } from './figures.js'
import type { BoatView } from './fleet-view.js'
import { groupBy } from './groups.js'
import { isMostlyAt, placesOf } from './places.js'
import { isDuring, type Scene } from './scene.js'
import { hoursDuring, isExposed, SOME_HOURS } from './shore-exposure.js'

/** Hours a day on the lead: most of the day from here on. Convention. */
const MANY_HOURS = 6
/** A contrast is told where it is clear: differences of the log rate. Convention. */
const CLEAR_CONTRAST = 0.4
const NO_CONTRAST = 0.15
/** Standard errors by which a contrast must stand out. Convention. */
const CLEAR_SE = 2
const LEAST_INTERVALS = 4
const LEAST_HOURS_APART = 3

/** Whether the boats concerned have a galvanic isolator. */
export function isolatorEvidence({ boats }: Scene): Evidence[] {
  const known = boats.flatMap(({ facts }) => facts.hasIsolator ?? [])
  if (known.length === 0) return []
  const fitted = known.filter((each) => each).length
  const state = fitted > known.length / 2 ? 'fitted' : 'none'
  if (boats.length === 1) return [evidence('isolator', state, `isolator/${state}`, {})]
  return [evidence('isolator', state, 'isolator/some', { fitted, of: known.length })]
}

/** Hours a day on shore power while it lasted. */
export function hoursEvidence(scene: Scene): Evidence[] {
  const hours = scene.boats.flatMap((boat) => {
    const during = boat.intervals.filter((each) => isDuring(scene, each))
    const known = during.flatMap((each) => hoursDuring(boat.facts, Math.max(each.from, scene.from), each.to) ?? [])
    return known.length === 0 ? [] : [mean(known)]
  })
  if (hours.length === 0) return []
  const usual = mean(hours)
  const state = usual < SOME_HOURS ? 'none' : usual < MANY_HOURS ? 'some' : 'many'
  return [evidence('shore-hours', state, 'shore-hours', { hours: usual })]
}

/** Whether wear goes with shore power: across the boats that share a place, or across a boat's stays and its neighbours. */
export function contrastEvidence(scene: Scene): Evidence[] {
  const { anomaly, boats, sign } = scene
  if (sign <= 0) return []
  const across = acrossBoats(scene)
  if (anomaly.scope === 'berth' || anomaly.scope === 'pontoon') return across
  const own = boats.flatMap((boat) => acrossStays(boat))
  // That the neighbours are spared does not spare this boat.
  return own.length > 0 ? own : across.filter(({ state }) => state === 'with-shore-power')
}

/** log rate = a_anode + b·hours, by least squares within anodes; judged by b times the spread of the hours. */
function acrossStays({ facts, intervals }: BoatView): Evidence[] {
  const points = intervals.flatMap((each) => {
    const hours = hoursDuring(facts, each.from, each.to)
    return hours === null ? [] : [{ hours, excess: each.excess, anode: each.interval.context.anode.history.position }]
  })
  const centred = [...groupBy(points, ({ anode }) => anode).values()].flatMap((of) => {
    const hours = mean(of.map((each) => each.hours))
    const excess = mean(of.map((each) => each.excess))
    return of.map((each) => ({ x: each.hours - hours, y: each.excess - excess }))
  })
  const sxx = centred.reduce((sum, { x }) => sum + x * x, 0)
  if (centred.length < LEAST_INTERVALS || sxx < LEAST_HOURS_APART ** 2) return []
  const slope = centred.reduce((sum, { x, y }) => sum + x * y, 0) / sxx
  const residual = centred.reduce((sum, { x, y }) => sum + (y - slope * x) ** 2, 0)
  const se = Math.sqrt(residual / Math.max(1, centred.length - 2) / sxx)
  const span = Math.max(...points.map(({ hours }) => hours)) - Math.min(...points.map(({ hours }) => hours))
  return told(slope * span, se * span, 'stays')
}

/** Boats of the place on shore power without an isolator against the others there; a boat that was noticed itself is left out. */
function acrossBoats(scene: Scene): Evidence[] {
  const { boats, fleet, from, anomaly } = scene
  const isNoticed = (boat: BoatView) => anomaly.boat !== null && boats.includes(boat)
  const places = placesOf(scene)
  const there = [...fleet.boats.values()].flatMap((boat) => {
    const during = isNoticed(boat)
      ? []
      : boat.intervals.filter((each) => isDuring(scene, each) && isMostlyAt(each, places))
    const exposed = isExposed(boat, from)
    if (during.length === 0 || exposed === null) return []
    const before = boat.intervals.filter((each) => each.to <= from)
    const level = before.reduce((sum, { excess }) => sum + excess, 0) / (before.length + 1)
    return [{ exposed, excess: mean(during.map(({ excess }) => excess)) - level }]
  })
  const exposed = there.filter((each) => each.exposed).map(({ excess }) => excess)
  const spared = there.filter((each) => !each.exposed).map(({ excess }) => excess)
  if (exposed.length < 2 || spared.length < 2) return []
  const difference = mean(exposed) - mean(spared)
  const se = Math.sqrt(varianceOf(exposed) / exposed.length + varianceOf(spared) / spared.length)
  return told(difference, se, 'boats')
}

function told(difference: number, se: number, among: 'stays' | 'boats'): Evidence[] {
  const tell = (state: 'with-shore-power' | 'alike') =>
    evidence('shore-contrast', state, `contrast-of-${among}/${state}`, { factor: Math.exp(difference) })
  if (difference > CLEAR_CONTRAST && difference > CLEAR_SE * se) return [tell('with-shore-power')]
  if (difference < NO_CONTRAST && difference + CLEAR_SE * se < 2 * CLEAR_CONTRAST) return [tell('alike')]
  return []
}

function varianceOf(values: readonly number[]): number {
  const middle = mean(values)
  return values.reduce((sum, each) => sum + (each - middle) ** 2, 0) / Math.max(1, values.length - 1)
}
