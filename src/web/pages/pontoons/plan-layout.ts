import type { BerthSide } from '../../../contract/vocabulary.js'

/** What places a berth in the plan: the side that somebody drew it on, else its position. */
export interface PlacedBerth {
  readonly berth: string
  readonly pontoon: string | null
  readonly planX: number | null
  readonly planY: number | null
  readonly side: BerthSide | null
  readonly place: number | null
}

/** Two berths that lie across from each other; the last may lie alone. Where somebody drew them, `one` is on the left, from the shore outwards. */
export interface Bay<Berth> {
  readonly one: Berth | null
  readonly other: Berth | null
}

export interface Spine<Berth> {
  readonly pontoon: string
  readonly bays: readonly Bay<Berth>[]
  readonly count: number
  readonly isDrawn: boolean
}

export interface Plan<Berth> {
  readonly spines: readonly Spine<Berth>[]
  /** Berths that belong to no pontoon. */
  readonly apart: readonly Berth[]
}

/** Names as people count: A2 before A10. */
const NATURAL = new Intl.Collator('en', { numeric: true, sensitivity: 'base' })

/** Sides are told apart by positions that stand off the middle by this share of the usual gap between berths. Convention. */
const LEAST_SIDE = 0.25

/** Pontoons as spines with berths on both sides: as somebody drew them, else in the natural order of their names unless positions say otherwise. */
export function planOf<Berth extends PlacedBerth>(berths: readonly Berth[]): Plan<Berth> {
  const byPontoon = new Map<string, Berth[]>()
  for (const berth of berths) {
    if (berth.pontoon === null) continue
    const known = byPontoon.get(berth.pontoon)
    if (known) known.push(berth)
    else byPontoon.set(berth.pontoon, [berth])
  }
  const spines = [...byPontoon].map(([pontoon, own]) => ({
    pontoon,
    bays: drawnBays(own) ?? baysOf(own),
    count: own.length,
    isDrawn: own.some(isDrawn),
  }))
  return {
    spines: spines.toSorted((a, b) => firstName(a, b)),
    apart: inNaturalOrder(berths.filter(({ pontoon }) => pontoon === null)),
  }
}

export function inNaturalOrder<Berth extends PlacedBerth>(berths: readonly Berth[]): Berth[] {
  return berths.toSorted((a, b) => NATURAL.compare(a.berth, b.berth))
}

/** By the name of the first berth: pontoon A comes first even where it is called Lantern. */
function firstName(a: Spine<PlacedBerth>, b: Spine<PlacedBerth>): number {
  const nameOf = ({ bays }: Spine<PlacedBerth>) => bays[0]?.one?.berth ?? bays[0]?.other?.berth ?? ''
  return NATURAL.compare(nameOf(a), nameOf(b)) || NATURAL.compare(a.pontoon, b.pontoon)
}

const isDrawn = ({ side }: PlacedBerth) => side !== null

/** The bays as somebody drew them, after them the berths that came since; null where nothing is drawn. */
function drawnBays<Berth extends PlacedBerth>(berths: readonly Berth[]): Bay<Berth>[] | null {
  if (!berths.some(isDrawn)) return null
  const sideOf = (wanted: BerthSide) =>
    berths.filter(({ side }) => side === wanted).toSorted((a, b) => (a.place ?? 0) - (b.place ?? 0))
  const later = inNaturalOrder(berths.filter((berth) => !isDrawn(berth)))
  return [...facing([sideOf('left'), sideOf('right')]), ...alternating(later)]
}

function baysOf<Berth extends PlacedBerth>(berths: readonly Berth[]): Bay<Berth>[] {
  const named = inNaturalOrder(berths)
  const placed = placesAlong(named)
  if (placed === null) return alternating(named)
  const inOrder = placed.toSorted((a, b) => a.along - b.along)
  const sides = sidesOf(inOrder)
  return sides === null ? alternating(inOrder.map(({ berth }) => berth)) : facing(sides)
}

function alternating<Berth>(berths: readonly Berth[]): Bay<Berth>[] {
  return Array.from({ length: Math.ceil(berths.length / 2) }, (_, bay) => ({
    one: berths[2 * bay] ?? null,
    other: berths[2 * bay + 1] ?? null,
  }))
}

interface Placed<Berth> {
  readonly berth: Berth
  /** Along and across the pontoon, in the unit of the plan. */
  readonly along: number
  readonly across: number
}

interface Point {
  readonly x: number
  readonly y: number
}

/** Where berths lie along their longest direction, from the end of the first name; null where a position is missing. */
function placesAlong<Berth extends PlacedBerth>(named: readonly Berth[]): Placed<Berth>[] | null {
  const points = named.flatMap(({ planX: x, planY: y }) => (x === null || y === null ? [] : { x, y }))
  if (points.length < 3 || points.length < named.length) return null
  const centre = { x: mean(points.map(({ x }) => x)), y: mean(points.map(({ y }) => y)) }
  const off = points.map(({ x, y }) => ({ x: x - centre.x, y: y - centre.y }))
  const turn = directionOf(off)
  const turned = off.map((point) => turnedBy(point, turn))
  const sign = (turned.at(-1)?.x ?? 0) < (turned[0]?.x ?? 0) ? -1 : 1
  return named.map((berth, index) => {
    const { x, y } = turned[index] ?? { x: 0, y: 0 }
    return { berth, along: sign * x, across: sign * y }
  })
}

/** Angle of the larger principal axis of points about their centre. */
function directionOf(off: readonly Point[]): number {
  const sum = (of: (point: Point) => number) => off.reduce((total, point) => total + of(point), 0)
  return 0.5 * Math.atan2(2 * sum(({ x, y }) => x * y), sum(({ x }) => x * x) - sum(({ y }) => y * y))
}

function turnedBy({ x, y }: Point, turn: number): Point {
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
  return { x: x * cos + y * sin, y: y * cos - x * sin }
}

/** The two sides, where positions tell them apart. */
function sidesOf<Berth>(placed: readonly Placed<Berth>[]): readonly [Berth[], Berth[]] | null {
  const left = placed.filter(({ across }) => across >= 0)
  const right = placed.filter(({ across }) => across < 0)
  const length = (placed.at(-1)?.along ?? 0) - (placed[0]?.along ?? 0)
  const gap = length / Math.max(left.length, right.length)
  const isApart = placed.every(({ across }) => Math.abs(across) >= LEAST_SIDE * gap)
  const berthsOf = (side: readonly Placed<Berth>[]) => side.map(({ berth }) => berth)
  return isApart && left.length > 0 && right.length > 0 ? [berthsOf(left), berthsOf(right)] : null
}

/** Sides of unlike length, each berth across from its nearest in order along the pontoon. */
function facing<Berth>([left, right]: readonly [readonly Berth[], readonly Berth[]]): Bay<Berth>[] {
  const length = Math.max(left.length, right.length)
  return Array.from({ length }, (_, bay) => ({ one: left[bay] ?? null, other: right[bay] ?? null }))
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}
