import { massRate } from '../../electrochemistry/faraday.js'
import { physicsMassRate } from '../../electrochemistry/protection-demand.js'
import type { AnodeHistory } from '../../rates/fleet-history.js'
import { designAlloy } from '../../reference/anode-alloys.js'
import { type Evidence, evidence } from './evidence.js'
import { mean, median } from './figures.js'
import type { BoatView } from './fleet-view.js'
import { groupBy } from './groups.js'
import { isDuring, type Scene } from './scene.js'
import { waterDuring } from './water-during.js'

/** Share of an anode's net mass that can be used before its core shows. Row `utilisation-range`. */
const USABLE = 0.85
/** Life over the time between lifts: short, about right, ample. Convention. */
const SHORT = 0.7
const AMPLE = 1.5
/** Published demand is good to a factor of about 3: rates within it agree. See `DEMAND_SPREAD`; a little less, as one is seen at a time. */
const AGREES_WITHIN = 2.2
/** Between lifts, where a boat's own record doesn't tell. Common practice: yearly. */
const USUAL_DAYS_BETWEEN_LIFTS = 365
const LEAST_DAYS_BETWEEN_LIFTS = 120

/** The bonded anodes' mass, and what they lose, against the published demand of the boat's metals. */
export function demandEvidence(scene: Scene): Evidence[] {
  const [boat] = scene.boats
  const history = boat?.observed?.history
  if (boat === undefined || history === undefined || scene.boats.length !== 1 || waterDuring(scene) === 'fresh')
    return []
  const { demandCurrentA } = history
  if (demandCurrentA === null || !(demandCurrentA > 0)) return []
  return [...massAgainstDemand(scene, boat, demandCurrentA), ...rateAgainstDemand(scene, boat, demandCurrentA)]
}

function massAgainstDemand(scene: Scene, boat: BoatView, demandA: number): Evidence[] {
  const days = massLastsDays(boat, demandA, scene.anodes[0]?.history?.fittedOn ?? null)
  if (days === null) return []
  const between = daysBetweenLifts(boat)
  const ratio = days / between
  const state = ratio < SHORT ? 'short' : ratio < AMPLE ? 'near' : 'enough'
  return [evidence('mass-against-demand', state, 'mass-against-demand', { lasts: days, between })]
}

/** Days that the anodes in place on a day last at the boat's demand; `null` where their masses or alloys are unknown [d]. */
export function massLastsDays(boat: BoatView, demandA: number, on: number | null): number | null {
  const bonded = new Map(boat.facts.anodes.map(({ key, bonded }) => [key, bonded]))
  const inPlace = (boat.observed?.anodes ?? []).filter(
    ({ history }) => bonded.get(history.key) !== false && isInPlace(history, on),
  )
  const charge = inPlace.reduce(
    (sum, { fitted }) => sum + fitted.netMassG / physicsMassRate(1, fitted.alloy ?? 'zinc'),
    0,
  )
  return charge > 0 ? (USABLE * charge) / demandA : null
}

function rateAgainstDemand(scene: Scene, boat: BoatView, demandA: number): Evidence[] {
  const during = boat.intervals.filter((each) => isDuring(scene, each))
  if (during.length === 0) return []
  const places = groupBy(during, ({ interval }) => interval.context.anode.history.position)
  const currentA = [...places.values()].reduce((sum, of) => {
    const alloy = designAlloy(of[0]!.interval.context.anode.history.alloy ?? 'zinc')
    return sum + mean(of.map(({ rate }) => rate)) / massRate(alloy.practicalAhPerKg, 1)
  }, 0)
  const ratio = currentA / demandA
  const state = ratio > AGREES_WITHIN ? 'above' : ratio < 1 / AGREES_WITHIN ? 'below' : 'agrees'
  return [evidence('rate-against-demand', state, 'rate-against-demand', { amperes: currentA, ratio })]
}

function isInPlace({ fittedOn, removedOn }: AnodeHistory, on: number | null): boolean {
  if (on === null) return removedOn === null
  return (fittedOn ?? -Infinity) <= on && (removedOn ?? Infinity) > on
}

function daysBetweenLifts({ intervals }: BoatView): number {
  const lengths = intervals.map(({ from, to }) => to - from).filter((days) => days >= LEAST_DAYS_BETWEEN_LIFTS)
  return lengths.length === 0 ? USUAL_DAYS_BETWEEN_LIFTS : median(lengths)
}
