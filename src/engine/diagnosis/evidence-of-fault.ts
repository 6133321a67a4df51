import { TELLING_READINGS } from '../reference/telling-readings.js'
import type { Anomaly } from './anomaly.js'
import { jointProbabilities, type Observed, soundProbability } from './cause-network.js'
import type { FleetView } from './evidence/fleet-view.js'
import { gatherEvidence } from './evidence/gather.js'
import { sceneOf } from './evidence/scene.js'
import { observedOf } from './weigh-evidence.js'

/** What can be read or seen without knowing any rate; how soon an anode was spent is not. */
const READINGS = new Set<string>(
  TELLING_READINGS.flatMap(({ key, observations }) => (key === 'undersized' ? [] : observations)),
)

/**
 * How much likelier what was read, seen and fitted is where one of the causes is at work than where all is sound:
 *
 *     Σ_c P(c | how it wears)·P(readings | c) / P(readings | sound)
 *
 * Sound is what every table has for a cause that leaves an observation alone. Without readings it is 1.
 *
 * @param anomaly the wear, as far as its rate goes
 */
export function evidenceOfFault(fleet: FleetView, anomaly: Anomaly): number {
  const observed = observedOf(gatherEvidence(sceneOf(anomaly, fleet), []))
  const wear = new Map([...observed].filter(([key]) => !READINGS.has(key)))
  const readings = new Map([...observed].filter(([key]) => READINGS.has(key)))
  return total(observed) / total(wear) / soundProbability(readings)
}

function total(observed: Observed): number {
  return jointProbabilities(observed).reduce((sum, each) => sum + each, 0)
}

/** Odds that a place or a boat has a fault at some time of its record, before anything is known of it. Convention: one in eleven. */
const PRIOR_ODDS = 0.1
/** Odds from which such wear is an anomaly. Convention: as likely as not, for who is told of it is told the next check too. */
const TELLING_ODDS = 1
/** Surprises commoner than this are ordinary, whatever was read: readings by themselves have their own way. Convention. */
const LARGEST_P = 0.3

/**
 * Whether a surprise that may be chance and what was read speak for a fault together:
 *
 *     odds = prior odds · B(p) · readings,   B(p) = 1/(−e·p·log p)
 *
 * with B the largest Bayes factor that a p-value below 1/e can stand for.
 *
 * @param p of the surprise, in (0, 1]
 * @param describe the anomaly that it would be
 * @see Sellke, Bayarri, Berger, Am. Stat. 55 (2001) 62–71, for B
 */
export function supportsFault(fleet: FleetView, p: number, describe: () => Anomaly): boolean {
  if (!(p < LARGEST_P)) return false
  const ofWear = p > 0 ? 1 / (-Math.E * p * Math.log(p)) : Infinity
  return PRIOR_ODDS * ofWear * evidenceOfFault(fleet, describe()) >= TELLING_ODDS
}
