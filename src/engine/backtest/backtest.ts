import { FORECAST_HORIZON_DAYS, knownBy } from '../forecast/anode-outlook.js'
import { type FleetForecast, forecastFleet } from '../forecast/fleet-forecast.js'
import type { FleetHistory } from '../rates/fleet-history.js'
import type { ObservedAnode } from '../rates/mass-states.js'
import { type ObservedBoat, observeFleet } from '../rates/rate-intervals.js'
import type { AnodeAlloy, Water } from '../reference/vocabulary.js'
import {
  consumedFraction,
  fleetRate,
  type Line,
  lineConsumed,
  lineCrossing,
  robustLine,
  straightLine,
  yearRule,
} from './baselines.js'
import { observedCrossing } from './observed-crossing.js'
import { type MassScore, scoreMass } from './predicted-mass.js'

/** What a forecast was made of and for: by these the scores are put together. */
export interface Scored {
  readonly origin: number
  readonly key: string
  readonly boat: string
  readonly alloy: AnodeAlloy | null
  readonly water: Water | null
  /** Whether the anode had been judged since it was fitted. */
  readonly isWeighed: boolean
}

/** A later weighing against the forecasts of its mass. */
export interface WeighingScore extends Scored {
  readonly on: number
  /** From the origin to the weighing [d]. */
  readonly horizonDays: number
  /** Net mass when new [g]. */
  readonly newG: number
  readonly model: MassScore
  /** Absolute errors of the net mass [g], which is what the ranked probability score of a single number is. */
  readonly lineErrorG: number
  readonly robustErrorG: number
  readonly ruleErrorG: number
}

/** The day on which an anode was found to have crossed against the forecasts of it; log(forecast/true remaining life). */
export interface LifeScore extends Scored {
  readonly lifeDays: number
  readonly modelLogError: number
  readonly lineLogError: number
  readonly robustLogError: number
  readonly ruleLogError: number
}

export interface OriginScores {
  readonly origin: number
  readonly weighings: readonly WeighingScore[]
  readonly lives: readonly LifeScore[]
}

/** A life that is all but over is a matter of days, not of proportion. Convention. */
const SHORTEST_LIFE_DAYS = 30

/**
 * Forecasts a fleet on one day from what was known by then, and scores that against what its anodes were found to weigh later.
 * Plans count as the record tells them: the days in the water up to a weighing are those that came to pass. A crossing is found between
 * the two weighings around it, so lives are known only of anodes that stayed on beyond their threshold.
 *
 * @param history the whole record
 * @param origin day number on which the forecasts are made
 * @param end day number up to which the record goes
 * @throws NotConverged where the fit does not settle
 */
export function backtestAt(history: FleetHistory, origin: number, end: number): OriginScores {
  const known = knownBy(history, origin, end)
  const forecast = forecastFleet(known, origin)
  const { observation } = forecast.summary
  // Read as the forecast read them: nothing that was learned later counts.
  const before = observeFleet(known, origin, observation)
  const after = observeFleet(history, end, observation)
  const perDay = fleetRate(before) ?? 0
  const past = anodesByKey(before)
  const future = anodesByKey(after)
  const waters = new Map(history.berths.map(({ berth, water }) => [berth, water]))
  const weighings: WeighingScore[] = []
  const lives: LifeScore[] = []
  for (const issued of forecast.anodes) {
    const now = past.get(issued.key)
    const later = future.get(issued.key)
    if (now === undefined || later === undefined) continue
    const lines = {
      line: straightLine(now.anode, perDay),
      robust: robustLine(now.anode, perDay),
      rule: yearRule(now.anode),
    }
    const berth = now.boat.calendar.berthOn(origin)
    const scored: Scored = {
      origin,
      key: issued.key,
      boat: now.boat.history.boat,
      alloy: now.anode.history.alloy,
      water: berth === null ? null : (waters.get(berth) ?? null),
      isWeighed: now.anode.states.length > 1 || !now.anode.fromFitting,
    }
    weighings.push(...weighingScores(scored, issued.outlook, later, lines))
    lives.push(...lifeScores(scored, issued.forecast.replace.p50, { now, later }, lines))
  }
  return { origin, weighings, lives }
}

interface Found {
  readonly boat: ObservedBoat
  readonly anode: ObservedAnode
}

interface Lines {
  readonly line: Line
  readonly robust: Line
  readonly rule: Line
}

function anodesByKey(boats: readonly ObservedBoat[]): Map<string, Found> {
  return new Map(boats.flatMap((boat) => boat.anodes.map((anode) => [anode.history.key, { boat, anode }] as const)))
}

function weighingScores(
  scored: Scored,
  outlook: FleetForecast['anodes'][number]['outlook'],
  { boat, anode }: Found,
  { line, robust, rule }: Lines,
): WeighingScore[] {
  return anode.states.flatMap((state) => {
    if (state.on <= scored.origin) return []
    const model = scoreMass(outlook, boat, anode, state)
    if (model === null) return []
    const newG = anode.fitted.netMassG
    const found = consumedFraction(anode, state.consumption)
    const errorOf = (of: Line) => newG * Math.abs(lineConsumed(of, boat, state.on) - found)
    return {
      ...scored,
      on: state.on,
      horizonDays: state.on - scored.origin,
      newG,
      model,
      lineErrorG: errorOf(line),
      robustErrorG: errorOf(robust),
      ruleErrorG: errorOf(rule),
    }
  })
}

function lifeScores(
  scored: Scored,
  median: number | null,
  { now, later }: { now: Found; later: Found },
  { line, robust, rule }: Lines,
): LifeScore[] {
  const crossing = observedCrossing(later.anode, later.boat)
  if (crossing === null || crossing <= scored.origin) return []
  const { threshold } = now.anode.history
  const lifeOf = (day: number | null) =>
    Math.max(SHORTEST_LIFE_DAYS, (day ?? scored.origin + FORECAST_HORIZON_DAYS) - scored.origin)
  const lifeDays = lifeOf(crossing)
  const logError = (day: number | null) => Math.log(lifeOf(day) / lifeDays)
  const crossingOf = (of: Line) => lineCrossing(of, now.boat, threshold, FORECAST_HORIZON_DAYS)
  return [
    {
      ...scored,
      lifeDays,
      modelLogError: logError(median),
      lineLogError: logError(crossingOf(line)),
      robustLogError: logError(crossingOf(robust)),
      ruleLogError: logError(crossingOf(rule)),
    },
  ]
}
