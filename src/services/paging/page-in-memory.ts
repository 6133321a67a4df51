import { z } from 'zod'
import type { Page } from '../../contract/paging.js'
import { BadCursor, packCursor, unpackCursor } from '../../db/repositories/paging.js'

type SortValue = string | number | null

/** The order of a list that lies in memory. */
export interface Order<Item> {
  /** As a query names it, with a minus before it for falling; kept in cursors. */
  readonly sort: string
  readonly keyOf: (item: Item) => SortValue
  /** What makes the order total: told apart by these, no two items are equal. */
  readonly tiesOf: (item: Item) => readonly string[]
}

const Cursor = z.tuple([z.string(), z.union([z.string(), z.number(), z.null()]), z.array(z.string())])
type Place = readonly [value: SortValue, ties: readonly string[]]

/**
 * One page of a list that lies in memory: after the place that the cursor names, so that none is missed or told twice when the
 * list changes between two pages. Empty values come last in either direction.
 *
 * @throws BadCursor
 */
export function pageInMemory<Item>(
  items: readonly Item[],
  { sort, keyOf, tiesOf }: Order<Item>,
  limit: number,
  cursor: string | undefined,
): Page<Item> {
  const after = cursor === undefined ? undefined : decode(cursor, sort)
  const direction = sort.startsWith('-') ? -1 : 1
  const ordered = items
    .map((item) => ({ item, place: [keyOf(item), tiesOf(item)] as Place }))
    .filter(({ place }) => after === undefined || compare(place, after, direction) > 0)
    .sort((a, b) => compare(a.place, b.place, direction))
  const shown = ordered.slice(0, limit)
  const last = ordered.length > limit ? shown.at(-1) : undefined
  return {
    items: shown.map(({ item }) => item),
    nextCursor: last ? packCursor([sort, ...last.place]) : null,
  }
}

/** By value, empty ones last in either direction, then by what tells items apart. */
function compare([a, ties]: Place, [b, others]: Place, direction: number): number {
  if (a === null || b === null) {
    if (a !== b) return a === null ? 1 : -1
  } else if (a !== b) return a < b ? -direction : direction
  for (const [index, tie] of ties.entries()) {
    const other = others[index] ?? ''
    if (tie !== other) return tie < other ? -1 : 1
  }
  return 0
}

function decode(cursor: string, sort: string): Place {
  const content = Cursor.safeParse(unpackCursor(cursor))
  if (!content.success || content.data[0] !== sort) throw new BadCursor()
  const [, value, ties] = content.data
  return [value, ties]
}
