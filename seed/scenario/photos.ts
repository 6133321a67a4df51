import { parse } from 'csv-parse/sync'
import type { Alloy, Shape } from './anode-bodies.js'
import { GANNET_THREE } from './stories.js'

/** One picture to draw and to keep with a weighing. */
export interface PhotoOrder {
  boat: string
  anode: string
  weighedOn: string
  wastedFraction: number
  alloy: Alloy
  shape: Shape
  conditions: string[]
}

type Row = Record<string, string>

/** Enough that every page of the demo has pictures, few enough to be drawn while it starts. */
const PICTURES = 60
/** Plain wear is shown by the two latest weighings of a boat; a story by as many as it has, up to this. */
const PLAIN_PER_BOAT = 2
const STORY_PER_BOAT = 4

/** Boats whose anodes tell a story worth a picture. */
const TOLD: readonly string[] = [
  'Second Kettle',
  "Plover's Errand",
  'Tolliver',
  'Fennimore',
  'Windfall Annie',
  'Sea Bramble',
  'Bellwether Jane',
  ...GANNET_THREE,
]

/**
 * The weighings that get a picture: those of the stories first, then the latest of each other boat, about 60 in all.
 *
 * @param fleet files as `generateFleet` gives them
 */
export function photosFor(fleet: ReadonlyMap<string, string>): PhotoOrder[] {
  const anodes = new Map(rowsOf(fleet, 'anodes.csv').map((row) => [`${row.boat}|${row.anode}`, row]))
  const seen = rowsOf(fleet, 'weighings.csv')
    .map((weighing) => orderOf(weighing, anodes.get(`${weighing.boat}|${weighing.anode}`)!))
    .filter((order) => order.wastedFraction > 0.02)
    .sort((a, b) => (a.weighedOn < b.weighedOn ? 1 : a.weighedOn > b.weighedOn ? -1 : 0))
  const stories = perBoat(seen.filter(tellsStory), STORY_PER_BOAT)
  const plain = perBoat(
    seen.filter((order) => !TOLD.includes(order.boat)),
    PLAIN_PER_BOAT,
  )
  return [...stories, ...plain].slice(0, PICTURES)
}

function tellsStory({ boat, conditions }: PhotoOrder): boolean {
  const telling = ['bright', 'painted', 'loose', 'crusted', 'paint-blistered', 'broken', 'undercut']
  return TOLD.includes(boat) && (boat === 'Sea Bramble' || conditions.some((code) => telling.includes(code)))
}

/** The first few of each boat, boats in turn, so that a cut at the end leaves out no boat before all have had one. */
function perBoat(orders: readonly PhotoOrder[], most: number): PhotoOrder[] {
  const turns: PhotoOrder[][] = Array.from({ length: most }, () => [])
  const counts = new Map<string, number>()
  for (const order of orders) {
    const turn = counts.get(order.boat) ?? 0
    counts.set(order.boat, turn + 1)
    turns[turn]?.push(order)
  }
  return turns.flat()
}

function orderOf(weighing: Row, anode: Row): PhotoOrder {
  return {
    boat: weighing.boat!,
    anode: weighing.anode!,
    weighedOn: weighing.weighed_on!,
    wastedFraction: Math.min(1, Math.max(0, wastedFraction(weighing, anode))),
    alloy: anode.alloy as Alloy,
    shape: anode.shape as Shape,
    conditions: weighing.condition === '' ? [] : weighing.condition!.split(';'),
  }
}

function wastedFraction(weighing: Row, anode: Row): number {
  if (weighing.method === 'visual') return Number(weighing.wasted_percent) / 100
  if (weighing.method === 'dimensions') return 1 - boxOf(weighing) / boxOf(anode)
  const core = Number(anode.core_mass_g)
  return 1 - (Number(weighing.mass_g) - core) / (Number(anode.gross_mass_g) - core)
}

function boxOf(row: Row): number {
  return Number(row.length_mm) * Number(row.width_mm) * Number(row.height_mm)
}

function rowsOf(fleet: ReadonlyMap<string, string>, name: string): Row[] {
  return parse(fleet.get(name) ?? '', { columns: true })
}
