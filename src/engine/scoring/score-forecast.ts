import { scoreMass } from '../backtest/predicted-mass.js'
import type { KeptOutlook } from '../forecast/fleet-forecast.js'
import { lossUntil } from '../forecast/loss-until.js'
import type { ObservedAnode } from '../rates/mass-states.js'
import type { ObservedBoat } from '../rates/rate-intervals.js'
import { normalPlusLognormalQuantile } from '../statistics/distributions/normal-plus-lognormal.js'

/** How a forecast of an anode's mass did when the anode was weighed. */
export interface ForecastScore {
  /** Probability, under the forecast, of a loss no larger than the one found: uniform on (0, 1) for honest forecasts. */
  readonly transform: number
  /** Continuous ranked probability score of the net mass [g]. */
  readonly crpsG: number
  /** Loss found beyond the middle one forecast [g]: below 0 where less was lost. */
  readonly moreLostG: number
  /** The same as time at the middle rate forecast: by so many days in the water the wear was ahead [d]. */
  readonly aheadDays: number
}

/**
 * Judges a forecast issued earlier by a later weighing, error of that weighing included. Where the boat lay between is taken as it
 * came to pass: the rate is judged, not the plan.
 *
 * @param anode read as the forecast read it: with its season, depletion exponents and errors of weighing
 * @param on day of the weighing
 * @returns `null` where that day has no state of its own, or none after the last one that the forecast knew
 * @see Dawid, J. R. Stat. Soc. A 147 (1984) 278–292, for the probability integral transform; Gneiting, Raftery, J. Am. Stat.
 *   Assoc. 102 (2007) 359–378, for the ranked probability score
 */
export function scoreForecast(
  outlook: KeptOutlook,
  boat: Pick<ObservedBoat, 'calendar'>,
  anode: ObservedAnode,
  on: number,
): ForecastScore | null {
  const last = outlook.path.at(-1)
  const state = anode.states.find((each) => each.on === on)
  const mass = state && scoreMass(outlook, boat, anode, state)
  if (!mass || last === undefined) return null
  const middle = normalPlusLognormalQuantile(lossUntil({ ...outlook, boat, last }, on, state.variance), 0.5)
  return {
    transform: mass.transform,
    crpsG: mass.crpsG,
    moreLostG: -mass.errorG,
    aheadDays: (state.consumption - middle) / Math.exp(outlook.logRate.mean),
  }
}
