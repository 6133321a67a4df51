import type { FleetHistory } from '../rates/fleet-history.js'

export interface RollingOrigins {
  /** Days from one origin to the next. */
  readonly everyDays: number
  /** The latest so many; all of them where not given. */
  readonly count?: number
}

/** Half a year: boats are lifted once or twice a year, so that each origin knows something new. Convention. */
export const EVERY_DAYS = 180
/** Weighings that must be known before a first forecast is asked for: one teaches nothing of a fleet. Convention. */
const LEAST_WEIGHINGS = 5

/**
 * The days on which a backtest forecasts, each from what was known by then: stepping back from just before the last weighing, so that
 * every origin has weighings after it, to the day on which a handful of weighings were known.
 *
 * @returns day numbers in order; none for a fleet with too few weighings
 * @see Tashman, Int. J. Forecasting 16 (2000) 437–450, for out-of-sample tests with a rolling origin
 */
export function rollingOrigins(history: FleetHistory, { everyDays, count }: RollingOrigins): number[] {
  const days = history.boats
    .flatMap(({ anodes }) => anodes.flatMap(({ weighings }) => weighings.map(({ on }) => on)))
    .sort((a, b) => a - b)
  const last = days.at(-1)
  const first = days[LEAST_WEIGHINGS - 1]
  if (last === undefined || first === undefined) return []
  const origins: number[] = []
  for (let origin = last - everyDays; origin >= first && origins.length < (count ?? Infinity); origin -= everyDays)
    origins.unshift(origin)
  return origins
}
