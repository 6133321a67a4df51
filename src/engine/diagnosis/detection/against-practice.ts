import type { ObservedBoat } from '../../rates/rate-intervals.js'
import type { RateModel } from '../../rates/rate-model.js'
import type { Anomaly } from '../anomaly.js'
import type { FleetView } from '../evidence/fleet-view.js'
import { massFittedEvidence } from '../evidence/mass-fitted.js'
import { type Scene, sceneOf } from '../evidence/scene.js'
import { isSpentWithinAYear, spentEvidence } from '../evidence/spent.js'
import { findByPractice, isOfBoat, judgeByPractice, type PracticeFinding } from './practice.js'
import type { RowPredictor } from './predict-rows.js'
import type { Whereabouts } from './sharing.js'
import { findSpentEarly } from './too-small.js'
import { successions } from './wear-groups.js'

/** Far from what the fit expects without the anodes themselves: by two thirds. Convention. */
const FAR_LOG_RATIO = 0.5
/** An anode of the past whose successors wear as usual: by a factor of about three. Convention. */
const FAR_IN_THE_PAST = 1.1
/** Where the expected rate is known no better than this [log], nothing tells what is usual here. Convention: a factor of 2.5. */
const HARDLY_KNOWN_SD = 0.9

/**
 * What is far from common practice without standing out among its like, or without any like. Where the fleet, the boat and the place let
 * expect a life as short, or as long, the anode wears as all here do. It is told only where it is smaller than what sits there and was spent
 * within a year: too small, then.
 *
 * @param fleet rates and facts, for what is fitted
 * @param found what stands out in the rates already
 */
export function againstPractice(
  predictor: RowPredictor,
  fleet: FleetView,
  where: Whereabouts,
  found: readonly Pick<Anomaly, 'anodes' | 'direction'>[],
): Anomaly[] {
  const known = new Set(found.flatMap(({ anodes, direction }) => anodes.map((key) => `${direction} ${key}`)))
  const rows = rowsByAnode(predictor.model)
  const isUsualToSpend = spendsUsually(predictor.model)
  return predictor.model.boats.flatMap((boat) => {
    const places = successions(boat.anodes)
    const byPractice = findByPractice(boat, places, (key, direction) => known.has(`${direction} ${key}`))
      .map((finding) => ({ finding, anomaly: anomalyOf(where, finding) }))
      .filter(({ finding, anomaly }) => {
        const least = hasRecovered(boat, places, finding) ? FAR_IN_THE_PAST : FAR_LOG_RATIO
        return isUnexpected(predictor, rows, finding, least) || isTooSmall(sceneOf(anomaly, fleet))
      })
      .map(({ anomaly }) => anomaly)
    const told = new Set(byPractice.flatMap(({ anodes, direction }) => (direction === 'fast' ? anodes : [])))
    const isKnown = (key: string) => told.has(key) || known.has(`fast ${key}`)
    return isUsualToSpend ? byPractice : [...byPractice, ...tooSmall(fleet, where, boat, places, isKnown)]
  })
}

/** Of the anodes that were weighed: where as many are spent within a year, it is the way of the fleet. Convention. */
const SPENT_BY_HABIT = 0.25

function spendsUsually({ boats }: RateModel): boolean {
  const weighed = boats.flatMap(({ anodes }) => anodes).filter(({ states }) => states.length > 1)
  return weighed.filter(isSpentWithinAYear).length > SPENT_BY_HABIT * weighed.length
}

/** Spent early and smaller than what sits there: one finding for the boat where most of its places share it. */
function tooSmall(
  fleet: FleetView,
  where: Whereabouts,
  boat: ObservedBoat,
  places: readonly (readonly string[])[],
  isKnown: (anode: string) => boolean,
): Anomaly[] {
  const anodes = new Map(boat.anodes.map((anode) => [anode.history.key, anode]))
  const found = findSpentEarly(boat.history.boat, anodes, places, isKnown).filter((finding) =>
    isTooSmall(sceneOf(anomalyOf(where, finding), fleet)),
  )
  const findings = isOfBoat(found, places) ? [joined(found)] : found
  return findings.map((finding) => anomalyOf(where, finding))
}

function joined(findings: readonly PracticeFinding[]): PracticeFinding {
  return { ...findings[0]!, scope: 'boat', anodes: findings.flatMap(({ anodes }) => anodes) }
}

function rowsByAnode({ intervals }: RateModel): ReadonlyMap<string, readonly number[]> {
  const rows = new Map<string, number[]>()
  intervals.forEach(({ context }, row) => {
    const { key } = context.anode.history
    const own = rows.get(key)
    if (own === undefined) rows.set(key, [row])
    else own.push(row)
  })
  return rows
}

/** At each of the finding's places an anode that was weighed since wears otherwise. */
function hasRecovered(boat: ObservedBoat, places: readonly (readonly string[])[], finding: PracticeFinding): boolean {
  const anodes = new Map(boat.anodes.map((anode) => [anode.history.key, anode]))
  const own = places.filter((keys) => keys.some((key) => finding.anodes.includes(key)))
  return own.every((keys) => {
    const last = Math.max(...finding.anodes.map((key) => keys.indexOf(key)))
    return keys.slice(last + 1).some((key) => {
      const anode = anodes.get(key)!
      return anode.states.length > 1 && judgeByPractice(anode)?.direction !== finding.judgement.direction
    })
  })
}

function isUnexpected(
  predictor: RowPredictor,
  rowsOf: ReadonlyMap<string, readonly number[]>,
  { anodes, judgement }: PracticeFinding,
  least: number,
): boolean {
  const { model } = predictor
  const rows = anodes.flatMap((key) => rowsOf.get(key) ?? [])
  const expected = predictor.predict(rows)
  if (expected === null) return true
  const n = rows.length
  const excess = rows.reduce((sum, row, i) => sum + model.logRates[row]! - expected.logRates[i]!, 0) / n
  const variance = rows.reduce((sum, _, i) => sum + expected.covariance[i * n + i]!, 0) / n
  if (Math.sqrt(variance) > HARDLY_KNOWN_SD) return true
  const sign = judgement.direction === 'fast' ? 1 : -1
  return sign * excess > least
}

function isTooSmall(scene: Scene): boolean {
  const isSmaller = massFittedEvidence(scene).some(({ state }) => state === 'smaller')
  return scene.sign > 0 && isSmaller && spentEvidence(scene).some(({ state }) => state === 'within-a-year')
}

function anomalyOf(where: Whereabouts, { boat, scope, anodes, judgement }: PracticeFinding): Anomaly {
  const keys = new Set(anodes)
  const berth = where.berthOf((where.panelOf(boat)?.losses ?? []).filter(({ anode }) => keys.has(anode)))
  return {
    scope,
    boat,
    berth,
    pontoon: where.pontoonOf(berth),
    anodes,
    direction: judgement.direction,
    noticedBy: 'interval',
    onset: null,
    surprise: judgement.score,
    adjustedP: null,
    logRatio: judgement.logRatio,
    shares: { anode: 0, boat: 0, berth: 0, pontoon: 0, [scope]: 1 },
  }
}
