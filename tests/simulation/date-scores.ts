import { consumedFraction, fleetRate, lineCrossing, straightLine } from '../../src/engine/backtest/baselines.js'
import { FORECAST_HORIZON_DAYS, knownBy } from '../../src/engine/forecast/anode-outlook.js'
import { type FleetForecast, forecastFleet } from '../../src/engine/forecast/fleet-forecast.js'
import type { CrossingDays } from '../../src/engine/forecast/forecast-anode.js'
import type { FleetHistory } from '../../src/engine/rates/fleet-history.js'
import type { ObservedAnode } from '../../src/engine/rates/mass-states.js'
import { observeFleet } from '../../src/engine/rates/rate-intervals.js'
import { anodeKey, recordedFleetOf } from '../../src/services/fleet-files/recorded-fleet.js'
import { fleetHistoryOf } from '../../src/services/model/fleet-history.js'
import type { AnodeTruth } from './boat-life.js'
import type { SimulatedFleet } from './simulated-fleet.js'

/** How the forecast of one anode did against what truly came. */
export interface DateScore {
  readonly truth: AnodeTruth
  readonly asOf: number
  /** To the true crossing [d]: not above 0 once that has passed, `Infinity` beyond the simulation. */
  readonly remainingDays: number
  readonly replace: CrossingDays
  readonly inside80: boolean
  readonly inside90: boolean
  /** Crossed before the interval, in it, or after. */
  readonly side80: 'before' | 'in' | 'after'
  /** log(forecast/true remaining life); `null` where either has passed. */
  readonly logError: number | null
  /** The same of the straight line through the anode's last two masses. */
  readonly lineLogError: number | null
  /** The same with calendar days for days in the water; `null` too for an anode without two masses, or one that gained. */
  readonly pencilLogError: number | null
  /** The same of somebody who knows the anode's mass and everything else but what chance is still to do. */
  readonly knowingLogError: number | null
}

/** A life that is all but over is a matter of days, not of proportion. */
const SHORTEST_LIFE_DAYS = 30

/** A fleet's forecasts on its last day, from its files. */
export function forecastOf(fleet: SimulatedFleet): { history: FleetHistory; forecast: FleetForecast } {
  const history = knownBy(fleetHistoryOf(recordedFleetOf(fleet.rows)), fleet.asOf, fleet.asOf)
  return { history, forecast: forecastFleet(history, fleet.asOf) }
}

/**
 * Crossing days against their intervals, along the stays that the forecast assumes.
 *
 * @param fleet whose truths are scored: all of the forecast's, or a part
 */
export function scoreDates(
  fleet: Pick<SimulatedFleet, 'asOf' | 'truths'>,
  history: FleetHistory,
  forecast: FleetForecast,
): DateScore[] {
  const forecasts = new Map(forecast.anodes.map(({ key, forecast: each }) => [key, each]))
  const lines = lineCrossings(history, forecast)
  return fleet.truths.flatMap((truth) => {
    const key = anodeKey(truth.boat, truth.anode)
    const found = forecasts.get(key)
    if (found === undefined) return []
    const { replace } = found
    const at = truth.crossesOn ?? Infinity
    const side80 = sideOf(at, replace.p10, replace.p90)
    return {
      truth,
      asOf: fleet.asOf,
      remainingDays: at - fleet.asOf,
      replace,
      side80,
      inside80: side80 === 'in',
      inside90: sideOf(at, replace.p05, replace.p95) === 'in',
      logError: logErrorOf(replace.p50, truth.crossesOn, fleet.asOf),
      lineLogError: logErrorOf(lines.get(key)?.crossing ?? null, truth.crossesOn, fleet.asOf),
      knowingLogError: logErrorOf(truth.calmlyCrossesOn, truth.crossesOn, fleet.asOf),
      pencilLogError: pencilError(lines.get(key)?.pencil ?? null, truth.crossesOn, fleet.asOf),
    }
  })
}

interface LineCrossings {
  /** `null` beyond the horizon. */
  readonly crossing: number | null
  /** `null` where there is no such line. */
  readonly pencil: number | null
}

function lineCrossings(history: FleetHistory, forecast: FleetForecast): Map<string, LineCrossings> {
  const boats = observeFleet(history, forecast.asOf, forecast.summary.observation)
  const perDay = fleetRate(boats) ?? 0
  return new Map(
    boats.flatMap((boat) =>
      boat.anodes.map((anode) => {
        const line = straightLine(anode, perDay)
        const crossing = lineCrossing(line, boat, anode.history.threshold, FORECAST_HORIZON_DAYS)
        return [anode.history.key, { crossing, pencil: pencilCrossing(anode) }] as const
      }),
    ),
  )
}

/** What an owner with a pencil does: a line through the last two masses over the calendar. */
function pencilCrossing(anode: ObservedAnode): number | null {
  const [before, last] = anode.states.slice(-2)
  if (before === undefined || last === undefined) return null
  const consumed = consumedFraction(anode, last.consumption)
  const perDay = (consumed - consumedFraction(anode, before.consumption)) / (last.on - before.on)
  return perDay > 0 ? last.on + (anode.history.threshold - consumed) / perDay : null
}

function pencilError(crossing: number | null, crossesOn: number | null, asOf: number): number | null {
  return crossing === null ? null : logErrorOf(crossing, crossesOn, asOf)
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
  return Math.log(life(predictedOn ?? asOf + FORECAST_HORIZON_DAYS) / life(crossesOn))
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
  readonly lineMedianError: number
  readonly pencilMedianError: number
  readonly knowingMedianError: number
}

export function summarise(scores: readonly DateScore[]): ScoreSummary {
  const share = (is: (score: DateScore) => boolean) => scores.filter(is).length / scores.length
  const absolute = (of: (score: DateScore) => number | null) =>
    median(scores.map(of).flatMap((error) => (error === null ? [] : [Math.abs(error)])))
  const errors = scores.flatMap(({ logError }) => (logError === null ? [] : [logError]))
  return {
    anodes: scores.length,
    inside80: share(({ inside80 }) => inside80),
    inside90: share(({ inside90 }) => inside90),
    before80: share(({ side80 }) => side80 === 'before'),
    after80: share(({ side80 }) => side80 === 'after'),
    medianError: median(errors.map(Math.abs)),
    medianBias: median(errors),
    lineMedianError: absolute(({ lineLogError }) => lineLogError),
    knowingMedianError: absolute(({ knowingLogError }) => knowingLogError),
    pencilMedianError: absolute(({ pencilLogError }) => pencilLogError),
  }
}

export function median(values: readonly number[]): number {
  if (values.length === 0) return Number.NaN
  const ordered = [...values].sort((a, b) => a - b)
  const middle = ordered.length >> 1
  return ordered.length % 2 === 1 ? ordered[middle]! : (ordered[middle - 1]! + ordered[middle]!) / 2
}
