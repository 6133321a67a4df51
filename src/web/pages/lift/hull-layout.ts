import type { AnodeView } from '../../../contract/anodes.js'
import type { PositionKind } from '../../../contract/vocabulary.js'

/** The drawing's own units: the hull lies from x 8 (stern) to x 354 (bow), its waterline at y 52. */
export const DRAWING = { width: 360, height: 170 } as const

interface Place {
  readonly x: number
  readonly y: number
}

/** Where each kind of position sits, and where the next of its kind goes. */
const PLACES: Readonly<Record<PositionKind, Place & { readonly stepX: number; readonly stepY: number }>> = {
  hull: { x: 176, y: 82, stepX: 40, stepY: 0 },
  shaft: { x: 106, y: 100, stepX: 13, stepY: -3 },
  'propeller hub': { x: 69, y: 109, stepX: 0, stepY: 10 },
  rudder: { x: 36, y: 108, stepX: 0, stepY: 16 },
  'saildrive leg': { x: 128, y: 110, stepX: 0, stepY: 13 },
  skeg: { x: 62, y: 84, stepX: 10, stepY: 0 },
  'trim tab': { x: 9, y: 66, stepX: 0, stepY: 10 },
  'bow thruster': { x: 300, y: 70, stepX: 12, stepY: 0 },
  'heat exchanger': { x: 146, y: 60, stepX: 14, stepY: 0 },
  other: { x: 240, y: 66, stepX: 22, stepY: 0 },
}

/** Words of a label that say where along the hull. @example 'hull port aft' */
const ALONG: readonly (readonly [words: RegExp, x: number])[] = [
  [/\b(bow|fore|forward)\b/, 262],
  [/\b(mid|midships?|amidships|centre)\b/, 190],
  [/\b(aft|stern|transom)\b/, 118],
]
/** Port lies behind the side that is seen: a little higher. */
const PORT_RISE = -6

export interface PlacedAnode extends Place {
  readonly anode: AnodeView
  /** From 1, in the order in which one walks along the boat: from the stern to the bow. */
  readonly number: number
}

/** Where each anode sits in the side view, from stern to bow; no two at one point. */
export function placeAnodes(anodes: readonly AnodeView[]): PlacedAnode[] {
  const taken: Place[] = []
  const places = anodes.map((anode) => {
    const place = freePlace(anode, taken)
    taken.push(place)
    return { anode, ...place }
  })
  const byBoat = places.toSorted((a, b) => a.x - b.x || a.y - b.y || (a.anode.name < b.anode.name ? -1 : 1))
  return byBoat.map((placed, index) => ({ ...placed, number: index + 1 }))
}

/** Closer than this two dots look like one. */
const APART = 8

function freePlace({ position, positionKind }: AnodeView, taken: readonly Place[]): Place {
  const { x, y, stepX, stepY } = PLACES[positionKind]
  const label = position.toLowerCase()
  const along = positionKind === 'hull' ? ALONG.find(([words]) => words.test(label))?.[1] : undefined
  const start = { x: along ?? x, y: y + (/\bport\b/.test(label) ? PORT_RISE : 0) }
  for (let step = 0; ; step++) {
    const place = stepped(start, stepX, stepY, step)
    if (!taken.some((other) => Math.hypot(other.x - place.x, other.y - place.y) < APART)) return place
  }
}

/** First the place itself, then to either side by turns; beyond a few, in rows below. */
function stepped({ x, y }: Place, stepX: number, stepY: number, step: number): Place {
  const [row, inRow] = [Math.floor(step / 5), step % 5]
  const side = inRow % 2 === 0 ? -1 : 1
  const far = Math.ceil(inRow / 2) * side
  return { x: x + far * stepX + row * APART, y: y + Math.abs(far) * stepY + row * APART * 1.2 }
}

/** Where a badge stands that leads to an anode: in rows below the hull, wide enough for a thumb. */
export interface Badge {
  readonly placed: PlacedAnode
  /** Centre, in shares of the drawing's width. */
  readonly x: number
  /** From 1, as a grid counts. */
  readonly column: number
  readonly row: number
}

/** Badges of one row on a phone: 7 of 48 px on 358 px. */
const IN_A_ROW = 7

/** Badges in the order of their anodes, spread over as few rows as hold them, so that lines to them cross little. */
export function badgesOf(placed: readonly PlacedAnode[]): Badge[] {
  const rows = Math.max(1, Math.ceil(placed.length / IN_A_ROW))
  const columns = Math.ceil(placed.length / rows)
  return placed.map((each, index) => {
    const column = Math.floor(index / rows)
    return { placed: each, x: (column + 0.5) / columns, column: column + 1, row: (index % rows) + 1 }
  })
}

/** Parts of the boat that are drawn because an anode sits on them; a rudder always is. */
export function partsDrawn(anodes: readonly AnodeView[]): ReadonlySet<PositionKind> {
  const kinds = new Set(anodes.map(({ positionKind }) => positionKind))
  if (kinds.has('propeller hub') && !kinds.has('saildrive leg')) kinds.add('shaft')
  return kinds
}
