import type { ObservedBoat } from '../rates/rate-intervals.js'
import type { Prediction } from '../statistics/mixed-model/types.js'
import type { FilteredConsumption } from './filtered-mass.js'

/** From a day on the anode goes at another pace than since its last weighing: the berths to come are not those it came from. */
export interface Ahead {
  readonly from: number
  /** Rate from that day on over the rate until then [–]. */
  readonly factor: number
  /** Variance of the log rate from that day on, noise included: the berths to come may be less well known. */
  readonly variance: number
}

/** What exposure is counted along. */
export interface Paced {
  readonly boat: Pick<ObservedBoat, 'calendar'>
  readonly last: Pick<FilteredConsumption, 'on'>
  /** Absent in forecasts that were issued before paces were told apart: the same pace throughout. */
  readonly ahead?: Ahead | undefined
}

/**
 * Exposure from the last weighing until a day, in days at the rate since that weighing: those after `ahead.from` count by its
 * factor. So what lies behind does not depend on where the boat goes next.
 */
export function pacedExposure({ boat, last, ahead }: Paced, day: number): number {
  if (ahead === undefined || day <= ahead.from) return boat.calendar.between(last.on, day).days
  const turn = Math.max(ahead.from, last.on)
  return boat.calendar.between(last.on, turn).days + ahead.factor * boat.calendar.between(turn, day).days
}

/** The day on which that exposure is reached; the inverse of the above. `null` more than `horizonDays` from the last weighing. */
export function dayAtPacedExposure({ boat, last, ahead }: Paced, exposure: number, horizonDays: number): number | null {
  const turn = ahead === undefined ? last.on : Math.max(ahead.from, last.on)
  const before = boat.calendar.between(last.on, turn).days
  if (ahead === undefined || exposure <= before) return boat.calendar.dayAtExposure(last.on, exposure, horizonDays)
  return boat.calendar.dayAtExposure(turn, (exposure - before) / ahead.factor, horizonDays - (turn - last.on))
}

/** The log rate that a mass on a day, or a date after it, is worked out with. */
export function logRateUntil(
  { logRate, ahead }: { readonly logRate: Prediction; readonly ahead?: Ahead | undefined },
  day: number,
): { readonly mean: number; readonly sd: number } {
  const variance = ahead !== undefined && day > ahead.from ? ahead.variance : logRate.variance
  return { mean: logRate.mean, sd: Math.sqrt(variance) }
}
