import type { DepletionView } from '../../../contract/forecasts.js'
import type { HaulOutView } from '../../../contract/haul-outs.js'
import type { CountedPart } from '../../../engine/planning/count-parts.js'
import { nextLiftOf } from '../../../presentation/next-lift.js'
import type { DepletionAnode } from '../../api/depletion.js'
import { daysBetween } from '../../wording/days.js'
import { occupiedPositions } from '../boat/positions.js'

/** When the boat should come out of the water next for its anodes. */
export type LiftAdvice =
  | { readonly kind: 'now' }
  /** At once, though a lift is planned: for later than that. */
  | { readonly kind: 'nowPlanned'; readonly on: string }
  | { readonly kind: 'planned' | 'by'; readonly on: string }
  /** Beyond what the service looks at. */
  | { readonly kind: 'far' }
  /** No anode of it has a forecast yet. */
  | { readonly kind: 'unknown' }

/** How sure the date of the anode due first is. */
export interface Sureness {
  /** `past`: that time is over, so that it was due already, 9 times in 10. */
  readonly grade: 'sure' | 'fairly' | 'rough' | 'past'
  /** 8 times in 10 it is due between these days; null: beyond what the service looks at. */
  readonly from: string
  readonly to: string | null
  readonly anode: string
  readonly position: string
  /** Weighings of this boat that it rests on. */
  readonly weighings: number
}

export interface YourBoat {
  readonly lift: LiftAdvice
  /** As on the boat's page, in letters and reports. */
  readonly parts: readonly CountedPart[]
  readonly sureness: Sureness | null
}

/** Spans of 8 times in 10 up to a quarter are told as sure, up to three quarters of a year as fairly sure. Convention. */
const SURE_DAYS = 92
const FAIRLY_SURE_DAYS = 275

/**
 * What the owner of a boat should know and do, from its forecasts and planned lifts.
 *
 * @param haulOuts all of the boat, in any order
 */
export function yourBoat(depletion: DepletionView, haulOuts: readonly HaulOutView[]): YourBoat {
  const inPlace = occupiedPositions(depletion).map(({ current }) => current)
  const planned = haulOuts
    .map(({ hauledOn }) => hauledOn)
    .filter((day) => day >= depletion.asOf)
    .toSorted()
  const lift = liftAdvice(inPlace, planned, depletion.asOf)
  return { lift, parts: nextLiftOf(depletion)?.parts ?? [], sureness: surenessOf(inPlace, depletion) }
}

function liftAdvice(inPlace: readonly DepletionAnode[], planned: readonly string[], asOf: string): LiftAdvice {
  const forecasts = inPlace.flatMap(({ forecast }) => forecast ?? [])
  if (forecasts.length === 0) return { kind: 'unknown' }
  const [on] = forecasts.flatMap(({ recommendedOn }) => recommendedOn ?? []).toSorted()
  if (on === undefined) return { kind: 'far' }
  // A lift that is planned for today is that lift, and no haste.
  if (planned.includes(on)) return { kind: 'planned', on }
  if (on > asOf) return { kind: 'by', on }
  const [next] = planned
  return next === undefined ? { kind: 'now' } : { kind: 'nowPlanned', on: next }
}

function surenessOf(inPlace: readonly DepletionAnode[], { anodes, asOf }: DepletionView): Sureness | null {
  const [first] = inPlace
    .flatMap(({ anode, position, forecast }) => {
      const from = forecast?.replace.p10 ?? null
      return from === null ? [] : { anode, position, from, to: forecast?.replace.p90 ?? null }
    })
    .toSorted((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : 0))
  if (first === undefined) return null
  const weighings = anodes.reduce((sum, anode) => sum + anode.weighings.length, 0)
  return { ...first, weighings, grade: gradeOf(first, asOf) }
}

function gradeOf({ from, to }: Pick<Sureness, 'from' | 'to'>, asOf: string): Sureness['grade'] {
  if (to === null) return 'rough'
  if (to <= asOf) return 'past'
  const days = daysBetween(from, to)
  if (days <= SURE_DAYS) return 'sure'
  return days <= FAIRLY_SURE_DAYS ? 'fairly' : 'rough'
}
