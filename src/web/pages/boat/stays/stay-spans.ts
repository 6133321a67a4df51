import type { StayView } from '../../../../contract/stays.js'
import { monthTicks } from '../../../../presentation/axis.js'
import { addDays, instantOf, latest } from '../../../wording/days.js'

/** A stay as a piece of the strip, in percent of its length. */
export interface StaySpan {
  readonly id: string
  readonly berth: string | null
  readonly fromOn: string
  readonly toOn: string | null
  readonly shorePowerHoursPerDay: number | null
  readonly start: number
  readonly length: number
  readonly isAhead: boolean
}

export interface StayStrip {
  readonly spans: readonly StaySpan[]
  readonly today: number
  readonly years: readonly { readonly at: number; readonly label: string }[]
}

/** Room right of today, so that the stay of today can be seen [d]. */
const AHEAD_DAYS = 60
const WHOLE = 100
const MOST_YEARS = 8
/** Further right a label of a year would be cut off, on a phone. */
const LAST_LABEL = 88

/** The stays from the first one until a little after today, or until the last that is planned to end. */
export function stayStrip(stays: readonly StayView[], asOf: string): StayStrip | null {
  const first = stays[0]?.fromOn
  if (first === undefined) return null
  const ends = stays.flatMap(({ fromOn, toOn }) => [fromOn, toOn ?? fromOn])
  const last = latest([addDays(asOf, AHEAD_DAYS), ...ends]) ?? asOf
  const from = instantOf(first)
  const span = instantOf(last) - from
  const at = (instant: number) => ((instant - from) / span) * WHOLE
  return {
    spans: stays.map(({ id, berth, fromOn, toOn, shorePowerHoursPerDay }) => {
      const start = at(instantOf(fromOn))
      return {
        id,
        berth,
        fromOn,
        toOn,
        shorePowerHoursPerDay,
        start,
        length: at(instantOf(toOn ?? last)) - start,
        isAhead: fromOn > asOf,
      }
    }),
    today: at(instantOf(asOf)),
    years: monthTicks(new Date(from), new Date(instantOf(last)), MOST_YEARS)
      .filter((tick) => tick.getUTCMonth() === 0)
      .map((tick) => ({ at: at(tick.getTime()), label: String(tick.getUTCFullYear()) }))
      .filter((year) => year.at < LAST_LABEL),
  }
}
