import type { DepletionView } from '../contract/forecasts.js'
import { type CountedPart, countParts } from '../engine/planning/count-parts.js'
import { addDays, earliest } from './calendar.js'
import { occupiedPositions } from './occupied-positions.js'

/** A lift by its day; not planned: a year is assumed, as the forecasts do where the calendar is empty. */
export interface Lift {
  readonly on: string
  readonly planned: boolean
}

/** What to have at hand when a boat is lifted next. */
export interface NextLift {
  readonly lift: Lift
  readonly following: Lift
  /** Anodes that would pass their threshold before the following lift with more than one chance in ten. */
  readonly replace: readonly string[]
  readonly parts: readonly CountedPart[]
  /** Anodes in place without a forecast: nothing is said of them. */
  readonly unknown: readonly string[]
}

/** Time from one lift to the next where none is planned [d]. Common practice: once a year; the forecasts assume the same. */
const USUAL_INTERVAL_DAYS = 365

/**
 * What to order for a boat's next lift: every anode whose date by which it is due with a chance of one in ten lies before the
 * following lift. That is the chance by which the recommended dates go.
 *
 * @returns null where no anode in place has a forecast
 */
export function nextLiftOf(depletion: DepletionView): NextLift | null {
  const anodes = occupiedPositions(depletion).map(({ current }) => current)
  const forecasts = anodes.flatMap(({ forecast }) => forecast ?? [])
  const lift = forecasts[0]?.nextHaulOut
  if (lift === undefined) return null
  const later = forecasts.flatMap(({ haulOutRisks }) => haulOutRisks.map(({ on }) => on)).filter((on) => on > lift.on)
  const planned = earliest(later)
  const following = { on: planned ?? addDays(lift.on, USUAL_INTERVAL_DAYS), planned: planned !== undefined }
  const due = anodes.filter(({ forecast }) => (forecast?.replace.p10 ?? NEVER) < following.on)
  return {
    lift,
    following,
    replace: due.map(({ anode }) => anode),
    parts: countParts(due.map(({ alloy, shape, fittedMassG }) => ({ alloy, shape, massG: fittedMassG }))),
    unknown: anodes.filter(({ forecast }) => forecast === null).map(({ anode }) => anode),
  }
}

/** Later than any date. */
const NEVER = '9999-12-31'
