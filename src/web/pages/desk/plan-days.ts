import type { LiftPlanRequest } from '../../../contract/desk-plan.js'
import { addDays, daysBetween } from '../../wording/days.js'

/** What the form of the plan holds, as typed. */
export interface PlanDraft {
  readonly from: string
  readonly to: string
  /** Weeks from one day to the next. */
  readonly every: string
  /** Boats a day, '' for any number. */
  readonly places: string
  readonly risk: string
  readonly until: string
}

const DAYS_PER_WEEK = 7
const MOST_DAYS = 200
/** Look at every anode at least yearly. */
const YEAR = 365

/** A day a fortnight for half a year from next week, with any number of boats, held until a year after. */
export function usualDraft(today: string): PlanDraft {
  const from = addDays(today, DAYS_PER_WEEK)
  const to = addDays(from, 26 * DAYS_PER_WEEK)
  return { from, to, every: '2', places: '', risk: '0.1', until: addDays(today, YEAR) }
}

/** The question behind a draft; `null` where it makes no sense. */
export function planRequest({ from, to, every, places, risk, until }: PlanDraft): LiftPlanRequest | null {
  const step = Number(every) * DAYS_PER_WEEK
  const capacity = places.trim() === '' ? null : Number(places)
  if (from === '' || to === '' || until === '' || to < from || !(step > 0)) return null
  if (capacity !== null && !(Number.isInteger(capacity) && capacity >= 0 && capacity <= 1000)) return null
  const count = Math.floor(daysBetween(from, to) / step) + 1
  const days = Array.from({ length: Math.min(count, MOST_DAYS + 1) }, (_, index) => ({
    on: addDays(from, index * step),
    places: capacity,
  }))
  if (days.length > MOST_DAYS || until < days.at(-1)!.on) return null
  return { risk: Number(risk), days, until }
}
