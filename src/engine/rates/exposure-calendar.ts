import type { BoatHistory, Stay } from './fleet-history.js'
import type { SeasonClock } from './season.js'

/** A span of days [from, to) of one kind. `berth: null` while afloat is somewhere unrecorded. */
interface Span {
  readonly from: number
  readonly to: number
  readonly afloat: boolean
  readonly berth: string | null
}

/** Days in the water, weighted by season, and where: what consumption is in proportion to. */
export interface Exposure {
  /** Season-weighted days: over whole years those of the calendar [d]. */
  readonly days: number
  /** The same by berth; days somewhere unrecorded are in `days` alone. */
  readonly byBerth: ReadonlyMap<string, number>
  /** Mean of cos φ and sin φ of the season over the exposure, above an average year's: how the season's amplitude enters. */
  readonly season: { readonly cos: number; readonly sin: number }
}

/**
 * When a boat was, and by the plans will be, in the water.
 *
 * Rules, in this order: a haul-out with a relaunch date is ashore; a stay says where; beyond the last stay the boat lies
 * at the last berth it had, on and on; days that no stay covers count as in the water at an unrecorded berth (a cruise), for
 * ashore is a stay too and would have been written down. A boat that is ashore as the record ends is taken to go back to
 * its last berth on the day `asOf`.
 */
export class ExposureCalendar {
  readonly #spans: readonly Span[]
  readonly #clock: SeasonClock

  constructor(boat: Pick<BoatHistory, 'stays' | 'haulOuts'>, asOf: number, clock: SeasonClock) {
    this.#spans = cutOutLifts(spansOfStays(boat.stays, asOf), boat)
    this.#clock = clock
  }

  /** Exposure over [from, to), from ≤ to. */
  between(from: number, to: number): Exposure {
    const byBerth = new Map<string, number>()
    const season = { cos: 0, sin: 0 }
    let days = 0
    for (const span of this.#spans) {
      const begin = Math.max(span.from, from)
      const end = Math.min(span.to, to)
      if (end <= begin || !span.afloat) continue
      const weighted = this.#clock.weightedDays(begin, end)
      const moments = this.#clock.moments(begin, end)
      days += weighted
      season.cos += moments.cos
      season.sin += moments.sin
      if (span.berth !== null) byBerth.set(span.berth, (byBerth.get(span.berth) ?? 0) + weighted)
    }
    if (days > 0) {
      season.cos /= days
      season.sin /= days
    }
    return { days, byBerth, season }
  }

  /**
   * The day on which the exposure counted from `start` reaches `days`; negative days run backwards. Fractional.
   * `null` when it lies more than `horizonDays` away.
   */
  dayAtExposure(start: number, days: number, horizonDays: number): number | null {
    return days >= 0 ? this.#forward(start, days, horizonDays) : this.#backward(start, -days, horizonDays)
  }

  /** The berth at which the boat lies on a day; `null` ashore or unrecorded. */
  berthOn(day: number): string | null {
    return this.#spans.find((span) => span.from <= day && day < span.to)?.berth ?? null
  }

  #forward(start: number, days: number, horizonDays: number): number | null {
    let left = days
    for (const span of this.#spans) {
      if (span.to <= start || !span.afloat) continue
      const begin = Math.max(span.from, start)
      const within = span.to === Infinity ? Infinity : this.#clock.weightedDays(begin, span.to)
      if (left <= within) return withinHorizon(this.#clock.dayAt(begin, left), start, horizonDays)
      left -= within
    }
    return null
  }

  #backward(start: number, days: number, horizonDays: number): number | null {
    let left = days
    for (const span of [...this.#spans].reverse()) {
      if (span.from >= start || !span.afloat) continue
      const end = Math.min(span.to, start)
      const within = span.from === -Infinity ? Infinity : this.#clock.weightedDays(span.from, end)
      if (left <= within) return withinHorizon(this.#clock.dayBefore(end, left), start, horizonDays)
      left -= within
    }
    return null
  }
}

function withinHorizon(day: number, start: number, horizonDays: number): number | null {
  return Math.abs(day - start) <= horizonDays ? day : null
}

function spansOfStays(stays: readonly Stay[], asOf: number): Span[] {
  const ordered = [...stays].sort((a, b) => a.from - b.from)
  const spans: Span[] = []
  let covered = -Infinity
  for (const stay of ordered) {
    if (stay.from > covered) spans.push({ from: covered, to: stay.from, afloat: true, berth: null })
    const end = stay.to ?? openEnd(stay, asOf)
    if (end > stay.from) spans.push({ from: stay.from, to: end, afloat: stay.berth !== null, berth: stay.berth })
    covered = Math.max(covered, end)
  }
  const lastBerth = ordered.findLast((stay) => stay.berth !== null)?.berth ?? null
  if (covered < Infinity) spans.push({ from: covered, to: Infinity, afloat: true, berth: lastBerth })
  return spans
}

/** An open stay at a berth goes on; one ashore ends where the record does. */
function openEnd(stay: Stay, asOf: number): number {
  return stay.berth === null ? Math.max(asOf, stay.from) : Infinity
}

function cutOutLifts(spans: readonly Span[], boat: Pick<BoatHistory, 'haulOuts'>): Span[] {
  let result = [...spans]
  for (const lift of boat.haulOuts) {
    const { on, relaunchedOn } = lift
    if (relaunchedOn === null || relaunchedOn <= on) continue
    result = result.flatMap((span) => {
      if (span.to <= on || span.from >= relaunchedOn) return [span]
      return [
        ...(span.from < on ? [{ ...span, to: on }] : []),
        { from: Math.max(span.from, on), to: Math.min(span.to, relaunchedOn), afloat: false, berth: null },
        ...(span.to > relaunchedOn ? [{ ...span, from: relaunchedOn }] : []),
      ]
    })
  }
  return result
}
