import type { Anomaly } from '../anomaly.js'
import { type Evidence, evidence } from './evidence.js'
import type { Scene } from './scene.js'

const FAST_BOUNDS = [1.8, 3.2, 6] as const
const SLOW_BOUNDS = [0.12, 0.3, 0.55] as const
const FAST_STATES = ['below-1.8', '1.8-to-3.2', '3.2-to-6', 'above-6'] as const
const SLOW_STATES = ['below-0.12', '0.12-to-0.3', '0.3-to-0.55', 'above-0.55'] as const

/** Direction and reach of the anomaly. */
export function patternEvidence({ anomaly }: Scene): Evidence[] {
  const { direction, scope } = anomaly
  if (direction === 'other') return [evidence('pattern', 'other', 'pattern/other', {})]
  return [evidence('pattern', `${direction}-${scope}`, `pattern/${direction}-${scope}`, {})]
}

/** By how much the rate differs from the expected one. */
export function sizeEvidence({ anomaly }: Scene): Evidence[] {
  const { direction, logRatio } = anomaly
  // Against common practice alone the ratio tells how soon the anode is due, not how far from its like it is.
  if (direction === 'other' || logRatio === null || anomaly.adjustedP === null) return []
  const ratio = Math.exp(logRatio.mean)
  const bounds = direction === 'fast' ? FAST_BOUNDS : SLOW_BOUNDS
  const states = direction === 'fast' ? FAST_STATES : SLOW_STATES
  const state = states[bounds.filter((bound) => ratio >= bound).length]!
  return [evidence(`size-${direction}`, state, 'size', { ratio, spread: Math.exp(logRatio.sd) })]
}

/** Whether the fleet's model expected such wear of this boat and place: then it is unusual by common practice alone. */
export function surpriseEvidence({ anomaly }: Scene): Evidence[] {
  if (anomaly.direction === 'other') return []
  if (anomaly.adjustedP === null) return [evidence('surprise', 'expected', 'surprise/expected', {})]
  const deviations = Math.abs(anomaly.surprise)
  return [evidence('surprise', 'unexpected', 'surprise/unexpected', { deviations })]
}

/** Days within which an onset and an arrival or a fitting count as one. Convention: the usual slack of a yard's dates. */
const SAME_TIME_DAYS = 14
/** An onset known no better than this falls together with something by chance. Convention: half a year. */
const LOOSE_DAYS = 180

/** Whether the change began as the anode was fitted, as the boat arrived at its berth, or some other day. */
export function onsetEvidence(scene: Scene): Evidence[] {
  const { anomaly, anodes, boats } = scene
  if (anomaly.direction === 'other') return []
  // Wear judged by common practice alone was compared with nothing before it, and has no onset to tell.
  if (anomaly.onset === null && anomaly.adjustedP === null) return []
  if (anomaly.onset === null) return [evidence('onset', 'with-fitting', 'onset/first-day', {})]
  if (anomaly.onset.p90 - anomaly.onset.p10 > LOOSE_DAYS) return []
  const near = (day: number) => isNear(anomaly.onset!, day)
  const arrivals = boats.flatMap(({ facts }) =>
    facts.stays.flatMap((stay) =>
      stay.berth !== null && arrivedElsewhere(facts.stays, stay.from, stay.berth) ? [stay.from] : [],
    ),
  )
  if (arrivals.some(near)) return [evidence('onset', 'with-arrival', 'onset/with-arrival', {})]
  const fittings = anodes.flatMap(({ history }) => history?.fittedOn ?? [])
  if (fittings.some(near)) return [evidence('onset', 'with-fitting', 'onset/with-fitting', {})]
  return [evidence('onset', 'later', 'onset/later', {})]
}

function isNear({ p10, p90 }: NonNullable<Anomaly['onset']>, day: number): boolean {
  return day >= p10 - SAME_TIME_DAYS && day <= p90 + SAME_TIME_DAYS
}

/** Coming back from ashore to the berth before is no arrival. */
function arrivedElsewhere(
  stays: readonly { readonly from: number; readonly berth: string | null }[],
  from: number,
  berth: string,
): boolean {
  const before = stays.filter((stay) => stay.from < from && stay.berth !== null).sort((a, b) => b.from - a.from)[0]
  return before !== undefined && before.berth !== berth
}
