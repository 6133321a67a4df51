import type { BerthSide } from '../../../../contract/vocabulary.js'
import type { Harbour, Line, Pontoon } from './harbour.js'

/** Room that a berth is given along a pontoon, and its length, where nobody has said: boats of about 11 m. Common practice. */
export const USUAL_WIDTH_M = 4.5
export const USUAL_LENGTH_M = 12
/** Half a walkway. Common practice: 2 to 3 m. */
const HALF_WALKWAY_M = 1.25
/** Water between the berths of two pontoons: one and a half boats' lengths, to turn in. Common practice. */
const FAIRWAY_M = 18
const LEAST_PLAN_M = { width: 120, height: 80 } as const
const MARGIN_M = 12

export interface Point {
  /** To the right and downwards [m]. */
  readonly x: number
  readonly y: number
}

export interface Box extends Point {
  readonly width: number
  readonly height: number
}

type Berths = Pick<Pontoon, 'left' | 'right'>

export function spacingOf({ berthWidthM }: Pick<Line, 'berthWidthM'>): number {
  return berthWidthM ?? USUAL_WIDTH_M
}

/** How far a pontoon reaches from the shore: as far as its berths need, one at least [m]. */
export function reachOf(pontoon: Pick<Line, 'berthWidthM'> & Berths): number {
  return Math.max(1, pontoon.left.length, pontoon.right.length) * spacingOf(pontoon)
}

/** The point so far along a pontoon, and so far off it to its right [m]. */
function pointAt({ shoreXM, shoreYM, headingDegrees }: Line, along: number, off: number): Point {
  const turn = (headingDegrees * Math.PI) / 180
  const [sin, cos] = [Math.sin(turn), Math.cos(turn)]
  return { x: shoreXM + along * sin + off * cos, y: shoreYM - along * cos + off * sin }
}

export function headOf(pontoon: Line & Berths): Point {
  return pointAt(pontoon, reachOf(pontoon), 0)
}

/** The four corners of a berth's water. @param index from 0 at the shore */
export function cornersOf(pontoon: Line, side: BerthSide, index: number): readonly Point[] {
  const spacing = spacingOf(pontoon)
  const out = side === 'left' ? -1 : 1
  const [near, far] = [out * HALF_WALKWAY_M, out * (HALF_WALKWAY_M + (pontoon.berthLengthM ?? USUAL_LENGTH_M))]
  return [
    pointAt(pontoon, index * spacing, near),
    pointAt(pontoon, (index + 1) * spacing, near),
    pointAt(pontoon, (index + 1) * spacing, far),
    pointAt(pontoon, index * spacing, far),
  ]
}

/** The line that was drawn from the shore to the head, to the whole degree and half metre, and how long it is [m]. */
export function lineBetween(
  shore: Point,
  head: Point,
): Pick<Line, 'shoreXM' | 'shoreYM' | 'headingDegrees'> & {
  readonly reachM: number
} {
  const [dx, dy] = [head.x - shore.x, head.y - shore.y]
  return {
    shoreXM: toHalf(shore.x),
    shoreYM: toHalf(shore.y),
    headingDegrees: inCircle((Math.atan2(dx, -dy) * 180) / Math.PI),
    reachM: Math.hypot(dx, dy),
  }
}

export function toHalf(metres: number): number {
  return Math.round(metres * 2) / 2
}

/** @example inCircle(-90) // 270 */
export function inCircle(degrees: number): number {
  return ((Math.round(degrees) % 360) + 360) % 360
}

/** The same pontoon with its shore at the other end: nothing moves on the plan, where its sides have as many berths. */
export function turnedRound(pontoon: Pontoon): Pontoon {
  const head = headOf(pontoon)
  return {
    ...pontoon,
    shoreXM: head.x,
    shoreYM: head.y,
    headingDegrees: inCircle(pontoon.headingDegrees + 180),
    left: pontoon.right.toReversed(),
    right: pontoon.left.toReversed(),
  }
}

/** What holds all that is drawn, with room around it. */
export function planBox({ pontoons }: Pick<Harbour, 'pontoons'>): Box {
  const points = pontoons.flatMap((pontoon) => [
    ...cornersOf(pontoon, 'left', 0),
    ...cornersOf(pontoon, 'right', 0),
    ...cornersOf(pontoon, 'left', Math.max(0, pontoon.left.length - 1)),
    ...cornersOf(pontoon, 'right', Math.max(0, pontoon.right.length - 1)),
    headOf(pontoon),
  ])
  if (points.length === 0) return { x: 0, y: 0, ...LEAST_PLAN_M }
  const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)]
  const [left, top] = [Math.min(...xs) - MARGIN_M, Math.min(...ys) - MARGIN_M]
  return {
    x: left,
    y: top,
    width: Math.max(LEAST_PLAN_M.width, Math.max(...xs) + MARGIN_M - left),
    height: Math.max(LEAST_PLAN_M.height, Math.max(...ys) + MARGIN_M - top),
  }
}

/** Where the next pontoon has room: upwards from the shore, to the right of all that is drawn. */
export function freeLine({ pontoons }: Pick<Harbour, 'pontoons'>, berthLengthM: number | null): Point {
  const length = berthLengthM ?? USUAL_LENGTH_M
  const last = pontoons.at(-1)
  if (last === undefined) return { x: 2 * length, y: LEAST_PLAN_M.height - MARGIN_M }
  const box = planBox({ pontoons })
  const rightmost = Math.max(
    ...pontoons.flatMap((pontoon) => [
      headOf(pontoon).x,
      ...cornersOf(pontoon, 'left', 0).map(({ x }) => x),
      ...cornersOf(pontoon, 'right', 0).map(({ x }) => x),
    ]),
  )
  return { x: toHalf(rightmost + FAIRWAY_M + length + HALF_WALKWAY_M), y: toHalf(box.y + box.height - MARGIN_M) }
}
