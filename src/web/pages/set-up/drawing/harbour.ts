import type { z } from 'zod'
import type { NewPontoonDrawing, PontoonDrawing } from '../../../../contract/pontoon-drawing.js'
import { BERTH_SIDES, type BerthSide } from '../../../../contract/vocabulary.js'

/** A berth while somebody draws. */
export interface Berth {
  /** Its id, where it is on record; else made up. */
  readonly key: string
  readonly isNew: boolean
  readonly name: string
  readonly isRenamed: boolean
  readonly hasStays: boolean
  /** Key of the pontoon that it is on by the record. */
  readonly home: string | null
}

/** Where a pontoon lies on the plan [m, °], and how large most of its berths are [m]. */
export interface Line {
  readonly shoreXM: number
  readonly shoreYM: number
  readonly headingDegrees: number
  readonly berthLengthM: number | null
  readonly berthWidthM: number | null
}

export interface Pontoon extends Line {
  readonly key: string
  readonly isNew: boolean
  readonly name: string
  readonly isRenamed: boolean
  readonly left: readonly Berth[]
  readonly right: readonly Berth[]
}

/** Berths that have no place on the drawing, by the pontoon they are on. */
export interface Waiting {
  readonly pontoon: { readonly key: string; readonly name: string } | null
  readonly berths: readonly Berth[]
}

/** A harbour while somebody draws it. */
export interface Harbour {
  readonly pontoons: readonly Pontoon[]
  readonly waiting: readonly Waiting[]
  /** Keys of berths that leave the record. */
  readonly removed: readonly string[]
}

export const NATURAL = new Intl.Collator('en', { numeric: true, sensitivity: 'base' })

export function harbourOf({ pontoons, undrawn }: PontoonDrawing): Harbour {
  const berthsOf = (berths: PontoonDrawing['undrawn'][number]['berths'], home: string | null): Berth[] =>
    berths.map(({ id, name, hasStays }) => ({ key: id, isNew: false, name, isRenamed: false, hasStays, home }))
  return {
    pontoons: pontoons.map(({ id, left, right, ...pontoon }) => ({
      ...pontoon,
      key: id,
      isNew: false,
      isRenamed: false,
      left: berthsOf(left, id),
      right: berthsOf(right, id),
    })),
    waiting: undrawn.map(({ pontoon, berths }) => ({
      pontoon: pontoon && { key: pontoon.id, name: pontoon.name },
      berths: berthsOf(berths, pontoon?.id ?? null),
    })),
    removed: [],
  }
}

/** What the service is asked to keep. Names go along where they are new: what somebody else renames meanwhile stays renamed. */
export function bodyOf({ pontoons, waiting, removed }: Harbour): z.input<typeof NewPontoonDrawing> {
  const sent = ({ key, isNew, name, isRenamed }: Pick<Berth, 'key' | 'isNew' | 'name' | 'isRenamed'>) => ({
    ...(isNew ? {} : { id: key }),
    ...(isNew || isRenamed ? { name } : {}),
  })
  return {
    pontoons: pontoons.map(({ left, right, ...pontoon }) => ({
      ...sent(pontoon),
      shoreXM: pontoon.shoreXM,
      shoreYM: pontoon.shoreYM,
      headingDegrees: pontoon.headingDegrees,
      berthLengthM: pontoon.berthLengthM,
      berthWidthM: pontoon.berthWidthM,
      left: left.map(sent),
      right: right.map(sent),
    })),
    off: waiting
      .filter(({ pontoon }) => pontoon === null)
      .flatMap(({ berths }) => berths.filter(({ home }) => home !== null).map(({ key }) => key)),
    removed: [...removed],
  }
}

/** Where a berth is: at a place of a drawn pontoon, or waiting for one. */
export type Whereabouts =
  | { readonly berth: Berth; readonly pontoon: Pontoon; readonly side: BerthSide; readonly index: number }
  | { readonly berth: Berth; readonly pontoon: null }

export function whereIs({ pontoons, waiting }: Harbour, key: string): Whereabouts | null {
  for (const pontoon of pontoons) {
    for (const side of BERTH_SIDES) {
      const index = pontoon[side].findIndex((berth) => berth.key === key)
      const berth = pontoon[side][index]
      if (berth) return { berth, pontoon, side, index }
    }
  }
  const berth = waiting.flatMap(({ berths }) => berths).find((each) => each.key === key)
  return berth ? { berth, pontoon: null } : null
}

export function allBerths({ pontoons, waiting }: Harbour): Berth[] {
  return [...pontoons.flatMap(({ left, right }) => [...left, ...right]), ...waiting.flatMap(({ berths }) => berths)]
}

/** Names as the service takes them: without spaces around. */
export function isBerthNamed(harbour: Harbour, name: string): boolean {
  return allBerths(harbour).some((berth) => berth.name === name)
}

export function isPontoonNamed({ pontoons, waiting }: Harbour, name: string): boolean {
  return pontoons.some((pontoon) => pontoon.name === name) || waiting.some(({ pontoon }) => pontoon?.name === name)
}
