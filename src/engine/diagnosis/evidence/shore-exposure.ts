import type { BoatFacts, ShorePowerStay } from '../fleet-facts.js'
import { mean } from './figures.js'
import type { BoatView } from './fleet-view.js'

/** Hours a day on the lead below which it is next to none. Convention. */
export const SOME_HOURS = 0.5

/**
 * Whether a boat was on shore power without an isolator since a day; an isolator that nobody knows of counts as none. `null` where its
 * hours are unknown.
 */
export function isExposed({ facts, intervals }: BoatView, since: number): boolean | null {
  const during = intervals.filter(({ to }) => to > since)
  const hours = during.flatMap((each) => hoursDuring(facts, Math.max(each.from, since), each.to) ?? [])
  return hours.length === 0 ? null : mean(hours) >= SOME_HOURS && facts.hasIsolator !== true
}

/** Mean hours a day on the lead over [from, to), days at a berth whose hours are known; `null` where none are. */
export function hoursDuring({ stays }: Pick<BoatFacts, 'stays'>, from: number, to: number): number | null {
  let days = 0
  let hours = 0
  for (const stay of stays) {
    const overlap = Math.min(to, stay.to ?? Infinity) - Math.max(from, stay.from)
    if (!isKnown(stay) || overlap <= 0) continue
    days += overlap
    hours += overlap * stay.hoursPerDay
  }
  return days > 0 ? hours / days : null
}

function isKnown(stay: ShorePowerStay): stay is ShorePowerStay & { hoursPerDay: number } {
  return stay.berth !== null && stay.hoursPerDay !== null
}
