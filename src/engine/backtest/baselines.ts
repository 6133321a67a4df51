import { netMassAfter } from '../depletion/consumption-coordinate.js'
import type { ObservedAnode } from '../rates/mass-states.js'
import type { ObservedBoat } from '../rates/rate-intervals.js'
import { theilSenLine } from '../statistics/median-line.js'

/** A forecast without a model: consumed fraction, linear in the exposure from one point on. */
export interface Line {
  readonly on: number
  /** Consumed fraction on that day [–]. */
  readonly consumed: number
  /** Per day of exposure [1/d]. */
  readonly perDay: number
}

/** Share of the net mass a year in the water takes by the rule of the dock: an anode lasts a year. Row `interval` of the reference. */
const YEARLY_LIFE_DAYS = 365

/**
 * What a straight line through an anode's last two masses says. An anode of one mass goes on at the fleet's mean rate, and so does
 * one that gained: a line that never crosses forecasts nothing.
 *
 * @param fleetPerDay mean consumed fraction per day of exposure in the fleet, > 0 [1/d]
 */
export function straightLine(anode: ObservedAnode, fleetPerDay: number): Line {
  const last = anode.states.at(-1)!
  const before = anode.states.at(-2)
  const consumed = consumedFraction(anode, last.consumption)
  if (before === undefined) return { on: last.on, consumed, perDay: fleetPerDay }
  const exposure = last.exposureDays - before.exposureDays
  const perDay = (consumed - consumedFraction(anode, before.consumption)) / exposure
  return { on: last.on, consumed, perDay: perDay > 0 ? perDay : fleetPerDay }
}

/** Limits of the slope are not asked for. Convention. */
const ANY_LEVEL = 0.9

/**
 * What the straight line through all of an anode's masses says that bears a wrong one among them (Theil and Sen): the strongest line
 * there is to beat. An anode of one mass, or of a line that never crosses, goes on at the fleet's mean rate.
 *
 * @param fleetPerDay mean consumed fraction per day of exposure in the fleet, > 0 [1/d]
 */
export function robustLine(anode: ObservedAnode, fleetPerDay: number): Line {
  const last = anode.states.at(-1)!
  const consumed = consumedFraction(anode, last.consumption)
  if (anode.states.length < 2) return { on: last.on, consumed, perDay: fleetPerDay }
  const points = anode.states.map(({ exposureDays, consumption }) => ({
    x: exposureDays,
    y: consumedFraction(anode, consumption),
  }))
  const { intercept, slope } = theilSenLine(points, ANY_LEVEL)
  if (!(slope > 0)) return { on: last.on, consumed, perDay: fleetPerDay }
  return { on: last.on, consumed: intercept + slope * last.exposureDays, perDay: slope }
}

/** The one-year rule: whatever was weighed, the threshold is reached after a year in the water from new. */
export function yearRule(anode: ObservedAnode): Line {
  const first = anode.states[0]!
  return {
    on: first.on,
    consumed: consumedFraction(anode, first.consumption),
    perDay: anode.history.threshold / YEARLY_LIFE_DAYS,
  }
}

/** Mean consumed fraction per day of exposure over all intervals of the fleet [1/d]; `null` where none lost anything. */
export function fleetRate(boats: readonly ObservedBoat[]): number | null {
  let consumed = 0
  let days = 0
  for (const anode of boats.flatMap(({ anodes }) => anodes)) {
    const last = anode.states.at(-1)!
    consumed += consumedFraction(anode, last.consumption)
    days += last.exposureDays
  }
  return consumed > 0 && days > 0 ? consumed / days : null
}

/** Consumed fraction that a line gives on a later day, at most 1. */
export function lineConsumed(line: Line, boat: Pick<ObservedBoat, 'calendar'>, on: number): number {
  const days = on >= line.on ? boat.calendar.between(line.on, on).days : 0
  return Math.min(1, line.consumed + line.perDay * days)
}

/** Day on which a line reaches a threshold; `null` beyond the horizon. */
export function lineCrossing(
  line: Line,
  boat: Pick<ObservedBoat, 'calendar'>,
  threshold: number,
  horizonDays: number,
): number | null {
  return boat.calendar.dayAtExposure(line.on, (threshold - line.consumed) / line.perDay, horizonDays)
}

/**
 * Consumed fraction of the mass at a consumption [–]: below 0 where error made it heavier than new. Of a curved law this is not
 * the share of the coordinate.
 */
export function consumedFraction({ fitted, exponent }: ObservedAnode, consumption: number): number {
  return 1 - netMassAfter(fitted.netMassG, fitted.netMassG, consumption, exponent) / fitted.netMassG
}
