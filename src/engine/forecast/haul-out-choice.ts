import type { HaulOut } from '../rates/fleet-history.js'
import { inspectionIntervalDays } from '../rates/normal-life.js'

/** The day of the next lift that a forecast reckons with. */
export interface NextHaulOut {
  readonly on: number
  /** False where none is planned and the yearly look is assumed. */
  readonly planned: boolean
}

/** A planned lift with the probability that an anode is due by then. */
export interface HaulOutRisk {
  readonly on: number
  readonly risk: number
}

/** Look at every anode at least yearly: reference `interval`. */
const YEARLY_LOOK_DAYS = inspectionIntervalDays()

/** The days of planned lifts after a day, each once, in order. */
export function plannedAfter(haulOuts: readonly HaulOut[], asOf: number): number[] {
  const days = haulOuts.filter(({ on, planned }) => planned && on > asOf).map(({ on }) => on)
  return [...new Set(days)].sort((a, b) => a - b)
}

/** The next planned lift; where none is planned, a year after the last one, or a year from now if that has passed. */
export function nextHaulOut(haulOuts: readonly HaulOut[], asOf: number): NextHaulOut {
  const [planned] = plannedAfter(haulOuts, asOf)
  if (planned !== undefined) return { on: planned, planned: true }
  const last = haulOuts.reduce((latest, { on }) => (on <= asOf && on > latest ? on : latest), -Infinity)
  const yearly = last + YEARLY_LOOK_DAYS
  return { on: yearly > asOf ? yearly : asOf + YEARLY_LOOK_DAYS, planned: false }
}

/**
 * When to lift for an anode: the last planned lift before the day it has one chance in ten to be due; that day itself where
 * none is planned before it; today where that day lies behind.
 *
 * @param earlyDay day of the 10 % quantile, `null` beyond the horizon
 */
export function recommendedDay(haulOuts: readonly HaulOut[], asOf: number, earlyDay: number | null): number | null {
  if (earlyDay === null) return null
  const before = plannedAfter(haulOuts, asOf).filter((on) => on <= earlyDay)
  return before.at(-1) ?? Math.max(earlyDay, asOf)
}
