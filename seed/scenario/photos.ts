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
const STORY_PER_BOAT = 3
/** How far back a plain picture may reach, in weighings of its boat. */
const LATEST = 8

/** Boats whose anodes tell a story, and the condition by which a picture of it is known. */
const TOLD: Readonly<Record<string, string>> = {
  'Second Kettle': 'sharp-edged',
  "Plover's Errand": 'painted',
  Tolliver: 'loose',
  Fennimore: 'crusted',
  'Windfall Annie': 'paint-blistered',
  'Bellwether Jane': 'broken',
  ...Object.fromEntries(GANNET_THREE.map((boat) => [boat, 'bright'])),
}

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
  const stories = perBoat(
    seen.filter(({ boat, conditions }) => conditions.includes(TOLD[boat] ?? 'nothing')),
    STORY_PER_BOAT,
  )
  return [...stories, ...variedFrom(seen, new Set(stories), PICTURES - stories.length)]
}

function perBoat(orders: readonly PhotoOrder[], most: number): PhotoOrder[] {
  const counts = new Map<string, number>()
  return orders.filter(({ boat }) => {
    counts.set(boat, (counts.get(boat) ?? 0) + 1)
    return counts.get(boat)! <= most
  })
}

/** One weighing a boat, in turns until there are enough, each time of the shape that has been pictured least so far. */
function variedFrom(orders: readonly PhotoOrder[], taken: Set<PhotoOrder>, wanted: number): PhotoOrder[] {
  const shapes = new Map<Shape, number>()
  const picked: PhotoOrder[] = []
  const boats = [...new Set(orders.map((order) => order.boat))]
  for (let turn = 0; picked.length < wanted && turn < wanted; turn += 1) {
    const boat = boats[turn % boats.length]!
    const latest = orders.filter((order) => order.boat === boat && !taken.has(order)).slice(0, LATEST)
    const pictured = ({ shape }: PhotoOrder): number => shapes.get(shape) ?? 0
    const choice = latest.sort((a, b) => pictured(a) - pictured(b))[0]
    if (choice === undefined) continue
    taken.add(choice)
    picked.push(choice)
    shapes.set(choice.shape, pictured(choice) + 1)
  }
  return picked
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
