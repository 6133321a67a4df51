import { z } from 'zod'
import type { FORECAST_SORTS, ForecastItem } from '../../contract/forecasts.js'
import type { Page } from '../../contract/paging.js'
import { BadCursor, packCursor, unpackCursor } from '../../db/repositories/paging.js'

type Sort = (typeof FORECAST_SORTS)[number]
type SortValue = string | number | null

const VALUE_OF: Record<string, (item: ForecastItem) => SortValue> = {
  recommendedOn: (item) => item.recommendedOn,
  boat: (item) => item.boat,
  risk: (item) => item.riskBeforeNextHaulOut,
}

const Cursor = z.tuple([z.string(), z.union([z.string(), z.number(), z.null()]), z.string(), z.string()])
type Place = readonly [value: SortValue, boat: string, anode: string]

/**
 * One page of forecasts that lie in memory: after the place that the cursor names, so that none is missed or told twice
 * when the fleet changes between two pages.
 *
 * @throws BadCursor
 */
export function pageOfForecasts(
  items: readonly ForecastItem[],
  sort: Sort,
  limit: number,
  cursor: string | undefined,
): Page<ForecastItem> {
  const after = cursor === undefined ? undefined : decode(cursor, sort)
  const direction = sort.startsWith('-') ? -1 : 1
  const ordered = items
    .map((item) => ({ item, place: placeOf(item, sort) }))
    .filter(({ place }) => after === undefined || compare(place, after, direction) > 0)
    .sort((a, b) => compare(a.place, b.place, direction))
  const shown = ordered.slice(0, limit)
  const last = ordered.length > limit ? shown.at(-1) : undefined
  return { items: shown.map(({ item }) => item), nextCursor: last ? encode(sort, last.place) : null }
}

function placeOf(item: ForecastItem, sort: Sort): Place {
  return [VALUE_OF[sort.replace('-', '')]!(item), item.boat, item.anode]
}

/** By value, empty ones last in either direction, then by boat and anode so that the order is total. */
function compare(a: Place, b: Place, direction: number): number {
  if (a[0] === null || b[0] === null) {
    if (a[0] !== b[0]) return a[0] === null ? 1 : -1
  } else if (a[0] !== b[0]) return a[0] < b[0] ? -direction : direction
  return order(a[1], b[1]) || order(a[2], b[2])
}

function order(a: string, b: string): number {
  if (a === b) return 0
  return a < b ? -1 : 1
}

function encode(sort: Sort, [value, boat, anode]: Place): string {
  return packCursor([sort, value, boat, anode])
}

function decode(cursor: string, sort: Sort): Place {
  const content = Cursor.safeParse(unpackCursor(cursor))
  if (!content.success || content.data[0] !== sort) throw new BadCursor()
  const [, value, boat, anode] = content.data
  return [value, boat, anode]
}
