import { parseNumber } from '../../../wording/typed-number.js'
import { freeLine, inCircle, type Point, spacingOf, toHalf } from './geometry.js'
import { type Harbour, isBerthNamed, isPontoonNamed, type Line } from './harbour.js'
import type { Step } from './steps.js'

/** How berths are numbered from the shore outwards: across from each other in turn, or one side after the other. */
export const NUMBERINGS = ['across', 'along'] as const
export type Numbering = (typeof NUMBERINGS)[number]

/** Where the shore is on the plan, and so where a pontoon runs from it [°]. */
export const SHORES = { bottom: 0, left: 90, top: 180, right: 270 } as const
export type Shore = keyof typeof SHORES
export const SHORE_SIDES = Object.keys(SHORES) as Shore[]

/** A pontoon as it stands in the form. */
export interface PontoonDraft {
  readonly name: string
  readonly before: string
  readonly left: string
  readonly right: string
  readonly numbering: Numbering
  readonly lengthM: string
  readonly widthM: string
  readonly headingDegrees: string
  /** Drawn by a stroke; null: wherever there is room. */
  readonly shore: Point | null
}

export const EMPTY_PONTOON: PontoonDraft = {
  name: '',
  before: '',
  left: '',
  right: '',
  numbering: 'across',
  lengthM: '',
  widthM: '',
  headingDegrees: '0',
  shore: null,
}

export type FieldOfPontoon = 'name' | 'left' | 'right' | 'lengthM' | 'widthM' | 'headingDegrees'
export type WrongPontoon = Readonly<
  Partial<Record<FieldOfPontoon, 'missing' | 'taken' | 'count' | 'metres' | 'degrees'>>
>

/** No side has more berths, no berth is larger, as the service has it. */
const MOST_BERTHS = 500
const LARGEST_M = 200

/** The step that a filled form asks for, or what of it is wrong. */
export function readPontoon(
  harbour: Harbour,
  draft: PontoonDraft,
  key: string,
): Step | { readonly wrong: WrongPontoon } {
  const name = draft.name.trim()
  const [left, right] = [countOf(draft.left), countOf(draft.right)]
  const [berthLengthM, berthWidthM] = [measureOf(draft.lengthM), measureOf(draft.widthM)]
  const heading = headingOf(draft.headingDegrees)
  const wrong: WrongPontoon = {
    ...(name === '' && { name: 'missing' }),
    ...(isPontoonNamed(harbour, name) && { name: 'taken' }),
    ...(left === null && { left: 'count' }),
    ...(right === null && { right: 'count' }),
    ...(Number.isNaN(berthLengthM) && { lengthM: 'metres' }),
    ...(Number.isNaN(berthWidthM) && { widthM: 'metres' }),
    ...(heading === null && { headingDegrees: 'degrees' }),
  }
  if (left === null || right === null || heading === null || Object.keys(wrong).length > 0) return { wrong }
  const shore = draft.shore ?? freeLine(harbour, berthLengthM)
  const line: Line = {
    shoreXM: toHalf(shore.x),
    shoreYM: toHalf(shore.y),
    headingDegrees: heading,
    berthLengthM,
    berthWidthM,
  }
  const names = numbered(harbour, draft.before.trim() || name, { left, right }, draft.numbering)
  return { kind: 'add-pontoon', key, name, line, ...names }
}

/** Nothing typed is none. @returns null for what is no count */
export function countOf(text: string): number | null {
  const trimmed = text.trim()
  if (trimmed === '') return 0
  return /^\d+$/.test(trimmed) && Number(trimmed) <= MOST_BERTHS ? Number(trimmed) : null
}

/** @returns null for nothing typed, NaN for what is no measure */
export function measureOf(text: string): number | null {
  if (text.trim() === '') return null
  const metres = parseNumber(text) ?? Number.NaN
  return metres > 0 && metres <= LARGEST_M ? metres : Number.NaN
}

/** @returns null for what is no direction */
export function headingOf(text: string): number | null {
  const degrees = parseNumber(text)
  return degrees === null || !(Math.abs(degrees) <= 360) ? null : inCircle(degrees)
}

/** How many berths a stroke of a length has room for on each side. */
export function berthsAlong(reachM: number, widthM: string): number {
  const width = measureOf(widthM)
  const berthWidthM = width === null || Number.isNaN(width) ? null : width
  return Math.min(MOST_BERTHS, Math.max(1, Math.floor(reachM / spacingOf({ berthWidthM }))))
}

interface BerthCounts {
  readonly left: number
  readonly right: number
}

/**
 * Names from the shore outwards; numbers that are taken are left out.
 *
 * @example numbered(empty, 'A', { left: 2, right: 1 }, 'across') // { left: ['A1', 'A3'], right: ['A2'] }
 */
export function numbered(harbour: Harbour, before: string, counts: BerthCounts, numbering: Numbering) {
  const left: string[] = []
  const right: string[] = []
  const next = nextName(harbour, before)
  const longest = Math.max(counts.left, counts.right)
  const fill = (side: string[], count: number) => {
    if (side.length < count) side.push(next())
  }
  if (numbering === 'along') {
    for (let place = 0; place < counts.left; place++) fill(left, counts.left)
    for (let place = 0; place < counts.right; place++) fill(right, counts.right)
  } else {
    for (let place = 0; place < longest; place++) {
      fill(left, counts.left)
      fill(right, counts.right)
    }
  }
  return { left, right }
}

/** Gives one free name after the other. */
export function nextName(harbour: Harbour, before: string, from = 1): () => string {
  let number = from - 1
  return () => {
    do number += 1
    while (isBerthNamed(harbour, `${before}${number}`))
    return `${before}${number}`
  }
}
