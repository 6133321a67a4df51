import { noiseScale } from '../rates/noise-memory.js'
import type { ObservedBoat } from '../rates/rate-intervals.js'
import type { Prediction } from '../statistics/mixed-model/types.js'
import type { FilteredConsumption } from './filtered-mass.js'

/** From a day on the anode goes at another pace than since its last weighing: the berths to come are not those it came from. */
export interface Ahead {
  readonly from: number
  /** Rate from that day on over the rate until then [–]. */
  readonly factor: number
  /** Variance of the log rate from that day on: the berths to come may be less well known. */
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

/** What a forecast says of the log rate. */
export interface PacedRate {
  /** Since the last weighing; with `noise` given, without it [log g/d]. */
  readonly logRate: Prediction
  readonly ahead?: Ahead | undefined
  /** Variance of the noise of a year. Absent in forecasts whose variances have it in them, the same for any exposure. */
  readonly noise?: number | undefined
}

/** The log rate that a mass on a day, or a date after it, is worked out with. */
export function logRateUntil(
  { logRate, ahead, noise }: PacedRate,
  day: number,
  exposureDays: number,
): { readonly mean: number; readonly sd: number } {
  const known = ahead !== undefined && day > ahead.from ? ahead.variance : logRate.variance
  const variance = noise === undefined ? known : known + noise * noiseScale(Math.max(0, exposureDays))
  return { mean: logRate.mean, sd: Math.sqrt(variance) }
}
