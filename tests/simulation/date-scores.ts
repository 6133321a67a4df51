import type { FleetForecast } from '../../src/engine/forecast/fleet-forecast.js'
import type { CrossingDays } from '../../src/engine/forecast/forecast-anode.js'
import { anodeKey } from '../../src/services/fleet-files/recorded-fleet.js'
import type { AnodeTruth } from './boat-life.js'
import type { SimulatedFleet } from './simulated-fleet.js'

/** How the forecast of one anode did against what truly came. */
export interface DateScore {
  readonly truth: AnodeTruth
  readonly replace: CrossingDays
  readonly inside80: boolean
  readonly inside90: boolean
  /** Crossed before the interval, in it, or after. */
  readonly side80: 'before' | 'in' | 'after'
  /** log(forecast/true remaining life); `null` where either has passed. */
  readonly logError: number | null
}

/** A life that is all but over is a matter of days, not of proportion. */
const SHORTEST_LIFE_DAYS = 30

/** Crossing days against their intervals, along the stays that the forecast assumes. */
export function scoreDates(fleet: SimulatedFleet, forecast: FleetForecast): DateScore[] {
  const forecasts = new Map(forecast.anodes.map(({ key, forecast: each }) => [key, each]))
  return fleet.truths.flatMap((truth) => {
    const found = forecasts.get(anodeKey(truth.boat, truth.anode))
    if (found === undefined) return []
    const { replace } = found
    const at = truth.crossesOn ?? Infinity
    const side80 = sideOf(at, replace.p10, replace.p90)
    return {
      truth,
      replace,
      side80,
      inside80: side80 === 'in',
      inside90: sideOf(at, replace.p05, replace.p95) === 'in',
      logError: logErrorOf(replace.p50, truth.crossesOn, fleet.asOf),
    }
  })
}

/** A date is a whole day: the crossing may fall anywhere in it. `null` lies beyond the horizon. */
function sideOf(at: number, low: number | null, high: number | null): DateScore['side80'] {
  if (at < (low ?? Infinity)) return 'before'
  return at > (high ?? Infinity) ? 'after' : 'in'
}

/** log of forecast over true remaining life, each at least a month; `null` where the true one has passed or never ends. */
export function logErrorOf(predictedOn: number | null, crossesOn: number | null, asOf: number): number | null {
  if (crossesOn === null || crossesOn <= asOf) return null
  const life = (on: number) => Math.max(SHORTEST_LIFE_DAYS, on - asOf)
  return Math.log(life(predictedOn ?? asOf + 30 * 365.25) / life(crossesOn))
}

export interface ScoreSummary {
  readonly anodes: number
  readonly inside80: number
  readonly inside90: number
  readonly before80: number
  readonly after80: number
  /** Median of |log(forecast/true remaining life)|, and of the log itself. */
  readonly medianError: number
  readonly medianBias: number
}

export function summarise(scores: readonly DateScore[]): ScoreSummary {
  const share = (is: (score: DateScore) => boolean) => scores.filter(is).length / scores.length
  const errors = scores.flatMap(({ logError }) => (logError === null ? [] : [logError]))
  return {
    anodes: scores.length,
    inside80: share(({ inside80 }) => inside80),
    inside90: share(({ inside90 }) => inside90),
    before80: share(({ side80 }) => side80 === 'before'),
    after80: share(({ side80 }) => side80 === 'after'),
    medianError: median(errors.map(Math.abs)),
    medianBias: median(errors),
  }
}

export function median(values: readonly number[]): number {
  if (values.length === 0) return Number.NaN
  const ordered = [...values].sort((a, b) => a - b)
  const middle = ordered.length >> 1
  return ordered.length % 2 === 1 ? ordered[middle]! : (ordered[middle - 1]! + ordered[middle]!) / 2
}
