import type { BoatHistory, Stay } from './fleet-history.js'

/** A span of days [from, to) of one kind. `berth: null` while afloat is somewhere unrecorded. */
interface Span {
  readonly from: number
  readonly to: number
  readonly afloat: boolean
  readonly berth: string | null
}

/** Days in the water, and where: what consumption is in proportion to. */
export interface Exposure {
  /** [d] */
  readonly days: number
  /** Days by berth; days somewhere unrecorded are in `days` alone. */
  readonly byBerth: ReadonlyMap<string, number>
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

  constructor(boat: Pick<BoatHistory, 'stays' | 'haulOuts'>, asOf: number) {
    this.#spans = cutOutLifts(spansOfStays(boat.stays, asOf), boat)
  }

  /** Exposure over [from, to), from ≤ to. */
  between(from: number, to: number): Exposure {
    const byBerth = new Map<string, number>()
    let days = 0
    for (const span of this.#spans) {
      const overlap = Math.min(span.to, to) - Math.max(span.from, from)
      if (overlap <= 0 || !span.afloat) continue
      days += overlap
      if (span.berth !== null) byBerth.set(span.berth, (byBerth.get(span.berth) ?? 0) + overlap)
    }
    return { days, byBerth }
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
      if (left <= span.to - begin) return withinHorizon(begin + left, start, horizonDays)
      left -= span.to - begin
    }
    return null
  }

  #backward(start: number, days: number, horizonDays: number): number | null {
    let left = days
    for (const span of [...this.#spans].reverse()) {
      if (span.from >= start || !span.afloat) continue
      const end = Math.min(span.to, start)
      if (left <= end - span.from) return withinHorizon(end - left, start, horizonDays)
      left -= end - span.from
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
