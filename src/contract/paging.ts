import { z } from 'zod'

export const DEFAULT_PAGE_SIZE = 50
export const LARGEST_PAGE_SIZE = 200

/** A key to sort by, or with a minus before it the same in falling order. */
export type SortOrder<Key extends string> = Key | `-${Key}`

/** Which page of a list: what a query says, checked. */
export interface PageRequest<Key extends string> {
  readonly limit: number
  readonly cursor?: string | undefined
  readonly sort: SortOrder<Key>
}

/** One page of a list; `nextCursor` leads to the next and is null on the last. */
export interface Page<Item> {
  items: Item[]
  nextCursor: string | null
}

const LONGEST_CURSOR = 2000

/** Where a page begins; a program may send it empty for the first. */
export const Cursor = z
  .string()
  .max(LONGEST_CURSOR)
  .transform((cursor) => cursor || undefined)
  .optional()
  .meta({ description: 'The nextCursor of the page before; empty or left out for the first' })

/**
 * The part of a list's query string that all lists share; filters are added with `.extend`. Unknown parameters are
 * refused, so that a misspelt filter does not quietly give everything.
 *
 * @param sortKeys what the list can be sorted by; the first, rising, is the order when none is asked for
 * @example pageQuery(['name', 'createdAt']).extend({ water: z.enum(WATERS).optional() })
 */
export function pageQuery<const Key extends string>(sortKeys: readonly [Key, ...Key[]]) {
  const [first] = sortKeys
  const orders = sortKeys.flatMap((key): SortOrder<Key>[] => [key, `-${key}`])
  return z.strictObject({
    limit: z.coerce
      .number()
      .int()
      .min(1)
      .max(LARGEST_PAGE_SIZE)
      .default(DEFAULT_PAGE_SIZE)
      .meta({ description: `Rows a page, 1 to ${LARGEST_PAGE_SIZE}` }),
    cursor: Cursor,
    sort: z
      .enum(orders as [SortOrder<Key>, ...SortOrder<Key>[]])
      // For an open Key the compiler cannot work out that the first key is one of the orders.
      .default(first as never)
      .meta({ description: 'Order of the rows; a minus before the key turns it round. Empty values come last.' }),
  })
}

/** Response schema of a list of such items. */
export function pageOf<Item extends z.ZodType>(item: Item) {
  return z.object({
    items: z.array(item),
    nextCursor: z.string().nullable().meta({ description: 'Cursor of the next page; null on the last' }),
  })
}
