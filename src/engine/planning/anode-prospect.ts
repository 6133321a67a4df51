import type { DrawnOutlook } from '../forecast/depletion-curve.js'
import type { FilteredConsumption } from '../forecast/filtered-mass.js'
import { riskBy } from '../forecast/forecast-anode.js'
import { lossUntil } from '../forecast/loss-until.js'
import { grossMassAt, type ObservedAnode } from '../rates/mass-states.js'
import type { ObservedBoat } from '../rates/rate-intervals.js'

/** What is believed of an anode in place: its weighings as filtered, and the rate it goes on with. */
export type AnodeProspect = DrawnOutlook

/**
 * Probability that an anode is due by a day, as it is or renewed before.
 *
 * A new anode is taken to be of the same part and to go at the rate of the one it replaces: its own chance is not known yet,
 * that of its place and boat is.
 *
 * @param day day number, no earlier than the last weighing, or than `renewedOn`
 * @param renewedOn day number on which a new one takes its place; `null` while it stays
 * @returns risk [–]
 */
export function prospectiveRisk(prospect: AnodeProspect, day: number, renewedOn: number | null): number {
  const risk = riskBy(renewedOn === null ? prospect : renewed(prospect, renewedOn), day)
  // A quadrature may leave [0, 1] by its last digits.
  return Math.min(1, Math.max(0, risk))
}

function renewed(prospect: AnodeProspect, on: number): AnodeProspect {
  const { anode } = prospect
  const variance = anode.fromFitting ? anode.states[0]!.variance : 0
  return { ...prospect, last: { on, exposureDays: 0, consumption: 0, variance }, covariance: 0 }
}

/**
 * Middle estimate of the consumed fraction on a day, as if the anode stayed in place: between two weighings in proportion to
 * the exposure, after the last one at the middle rate.
 *
 * @param day day number
 * @returns consumed fraction [–]; `null` before the first known mass
 */
export function consumedOn(prospect: AnodeProspect, day: number): number | null {
  const { last } = prospect
  if (day < last.on) return consumedAlong(prospect.boat, prospect.anode, prospect.path, day)
  const { mean, factor, logMean } = lossUntil(prospect, day)
  return fractionAt(prospect.anode, mean + factor * Math.exp(logMean))
}

/**
 * The same of an anode by its weighings alone, as of one that was replaced.
 *
 * @param path its masses in order of time
 * @returns consumed fraction [–]; `null` on days that no two of them enclose
 */
export function consumedAlong(
  { calendar }: Pick<ObservedBoat, 'calendar'>,
  anode: ObservedAnode,
  path: readonly Pick<FilteredConsumption, 'on' | 'exposureDays' | 'consumption'>[],
  day: number,
): number | null {
  const after = path.findIndex(({ on }) => on >= day)
  if (after < 0) return null
  const to = path[after]!
  if (to.on === day) return fractionAt(anode, to.consumption)
  const from = path[after - 1]
  if (from === undefined) return null
  const exposure = to.exposureDays - from.exposureDays
  const share = exposure > 0 ? calendar.between(from.on, day).days / exposure : 0
  return fractionAt(anode, from.consumption + share * (to.consumption - from.consumption))
}

/** Never below 0: an error that makes a new anode heavier has consumed nothing. */
function fractionAt(anode: ObservedAnode, consumption: number): number {
  const { coreMassG, netMassG } = anode.fitted
  return Math.max(0, 1 - (grossMassAt(anode, consumption) - coreMassG) / netMassG)
}
