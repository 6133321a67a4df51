import type { FINDING_SORTS, FindingItem } from '../../contract/findings.js'
import type { Page } from '../../contract/paging.js'
import { pageInMemory } from '../paging/page-in-memory.js'

type Sort = (typeof FINDING_SORTS)[number]

const KEY_OF: Record<string, (item: FindingItem) => string | number | null> = {
  surprise: ({ surprise }) => Math.abs(surprise),
  since: ({ since }) => since,
  boat: ({ boat }) => boat,
}

/** @throws BadCursor */
export function pageOfFindings(
  items: readonly FindingItem[],
  sort: Sort,
  limit: number,
  cursor: string | undefined,
): Page<FindingItem> {
  const keyOf = KEY_OF[sort.replace('-', '')]!
  return pageInMemory(items, { sort, keyOf, tiesOf: ({ id }) => [id] }, limit, cursor)
}
