import { dueConsumption, type ObservedAnode } from '../rates/mass-states.js'
import type { ObservedBoat } from '../rates/rate-intervals.js'

/**
 * When an anode reached its threshold, as far as its weighings tell: between the last state short of it and the first beyond, in
 * proportion to the exposure.
 *
 * @returns day number; `null` where no state lies beyond the threshold, or the first one does
 */
export function observedCrossing(anode: ObservedAnode, boat: Pick<ObservedBoat, 'calendar'>): number | null {
  const due = dueConsumption(anode)
  const index = anode.states.findIndex(({ consumption }) => consumption >= due)
  const before = anode.states[index - 1]
  if (before === undefined) return null
  const after = anode.states[index]!
  const share = (due - before.consumption) / (after.consumption - before.consumption)
  const days = share * boat.calendar.between(before.on, after.on).days
  return boat.calendar.dayAtExposure(before.on, days, after.on - before.on + 1)
}
