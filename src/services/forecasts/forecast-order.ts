import type { FORECAST_SORTS, ForecastItem } from '../../contract/forecasts.js'
import type { Page } from '../../contract/paging.js'
import { pageInMemory } from '../paging/page-in-memory.js'

type Sort = (typeof FORECAST_SORTS)[number]

const KEY_OF: Record<string, (item: ForecastItem) => string | number | null> = {
  recommendedOn: (item) => item.recommendedOn,
  boat: (item) => item.boat,
  risk: (item) => item.riskBeforeNextHaulOut,
}

/**
 * One page of forecasts, told apart by boat and anode.
 *
 * @throws BadCursor
 */
export function pageOfForecasts(
  items: readonly ForecastItem[],
  sort: Sort,
  limit: number,
  cursor: string | undefined,
): Page<ForecastItem> {
  const keyOf = KEY_OF[sort.replace('-', '')]!
  return pageInMemory(items, { sort, keyOf, tiesOf: ({ boat, anode }) => [boat, anode] }, limit, cursor)
}
