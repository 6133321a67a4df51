import { type AnyColumn, asc, desc, type SQL, sql } from 'drizzle-orm'
import { z } from 'zod'
import type { Page, PageRequest } from '../../contract/paging.js'

/** A cursor that this list and order did not give out. */
export class BadCursor extends Error {
  constructor() {
    super('the cursor is not one that this list gave out for this order; start again without it')
    this.name = 'BadCursor'
  }
}

/** Something a list can be sorted by: an expression, and how its value travels in a cursor. */
export interface SortKey {
  readonly expression: SQL
  /** The value as text, exact, so that the next page starts after this very row. */
  readonly asText: SQL<string | null>
  readonly fromText: (text: string) => SQL
  readonly text: z.ZodType<string>
  /** Whether no row is without a value: then an index over it gives the rows of a page, and no others are read. */
  readonly inEveryRow?: true
}

/** A key whose column is never empty, its table never left out by a join. */
export function inEveryRow(key: SortKey): SortKey {
  return { ...key, inEveryRow: true }
}

/** Sort by text, by code point: the same order on the server and on the embedded database, whatever their locale. */
export function textKey(column: AnyColumn | SQL): SortKey {
  return {
    expression: sql`${column} collate "C"`,
    asText: sql<string | null>`${column}`,
    fromText: (text) => sql`${text}::text`,
    // PostgreSQL cannot hold the NUL character in a text.
    text: z.string().refine((text) => !text.includes('\0')),
  }
}

export function numberKey(column: AnyColumn | SQL): SortKey {
  return {
    expression: sql`${column}`,
    asText: sql<string | null>`${column}::text`,
    fromText: (text) => sql`${text}::double precision`,
    text: z.string().regex(/^-?\d{1,15}(\.\d{1,20})?(e[+-]?\d{1,2})?$/),
  }
}

/** Sort by a date of the dock. */
export function dateKey(column: AnyColumn | SQL): SortKey {
  return {
    expression: sql`${column}`,
    asText: sql<string | null>`to_char(${column}, 'YYYY-MM-DD')`,
    fromText: (text) => sql`${text}::date`,
    text: z.iso.date().refine((text) => text > '0001'),
  }
}

/** Sort by an instant, to the microsecond that PostgreSQL keeps. */
export function instantKey(column: AnyColumn | SQL): SortKey {
  return {
    expression: sql`${column}`,
    asText: sql<string | null>`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"')`,
    fromText: (text) => sql`${text}::timestamptz`,
    text: z.iso.datetime().refine((text) => text > '0001'),
  }
}

/** What a query needs in order to give one page. */
export interface Keyset {
  /** To be selected as `cursorValue`. */
  readonly cursorValue: SQL<string | null>
  /** Rows after the cursor; undefined on the first page. */
  readonly after: SQL | undefined
  readonly orderBy: SQL[]
  /** One more than the page holds, to see whether another follows. */
  readonly limit: number
  /** Cuts the rows to the page and turns each into what the caller shows. */
  page<Row extends { id: string; cursorValue: string | null }, Item>(
    rows: readonly Row[],
    toItem: (row: Row) => Item,
  ): Page<Item>
}

/**
 * Keyset paging over (sort value, id): each row comes exactly once however the table grows meanwhile, and the thousandth
 * page costs what the first does. Rows without a value come last in either direction.
 *
 * @param list name of the list, kept in its cursors so that another list's is refused
 * @param id the column that makes the order total
 * @throws BadCursor
 * @example
 * const keyset = keysetOf('boats', request, { name: textKey(boats.name) }, boats.id)
 * const rows = await db.select({ id: boats.id, name: boats.name, cursorValue: keyset.cursorValue }).from(boats)
 *   .where(and(visibleBoats(scope), keyset.after)).orderBy(...keyset.orderBy).limit(keyset.limit)
 * return keyset.page(rows, toBoat)
 */
export function keysetOf<Key extends string>(
  list: string,
  request: PageRequest<Key>,
  keys: Record<Key, SortKey>,
  id: AnyColumn,
): Keyset {
  const descending = request.sort.startsWith('-')
  const key = keys[(descending ? request.sort.slice(1) : request.sort) as Key]
  const inOrder = descending ? desc : asc
  const cursor = request.cursor === undefined ? undefined : decodeCursor(request.cursor, list, request.sort, key)
  return {
    cursorValue: key.asText,
    after: cursor && rowsAfter(cursor, key, id, descending),
    // Falling and with its empty values last is an order that no index has which rises.
    orderBy: [key.inEveryRow ? inOrder(key.expression) : sql`${inOrder(key.expression)} nulls last`, inOrder(id)],
    limit: request.limit + 1,
    page: (rows, toItem) => {
      const shown = rows.slice(0, request.limit)
      const last = rows.length > request.limit ? shown.at(-1) : undefined
      return {
        items: shown.map(toItem),
        nextCursor: last ? encodeCursor(list, request.sort, last.cursorValue, last.id) : null,
      }
    },
  }
}

interface Cursor {
  readonly value: string | null
  readonly id: string
}

const CursorContent = z.tuple([z.string(), z.string(), z.string().nullable(), z.uuid()])

function encodeCursor(list: string, sort: string, value: string | null, id: string): string {
  return packCursor([list, sort, value, id])
}

function decodeCursor(text: string, list: string, sort: string, key: SortKey): Cursor {
  const content = CursorContent.safeParse(unpackCursor(text))
  if (!content.success) throw new BadCursor()
  const [ofList, ofSort, value, id] = content.data
  if (ofList !== list || ofSort !== sort) throw new BadCursor()
  if (value !== null && !key.text.safeParse(value).success) throw new BadCursor()
  return { value, id }
}

/** What a cursor holds, as text that fits a query. */
export function packCursor(content: readonly unknown[]): string {
  return Buffer.from(JSON.stringify(content)).toString('base64url')
}

/** What a cursor holds, unchecked; undefined where it is no cursor at all. */
export function unpackCursor(cursor: string): unknown {
  try {
    return JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'))
  } catch {
    return undefined
  }
}

function rowsAfter(cursor: Cursor, key: SortKey, id: AnyColumn, descending: boolean): SQL {
  const { expression } = key
  const beyond = sql.raw(descending ? '<' : '>')
  const idBeyond = sql`${id} ${beyond} ${cursor.id}::uuid`
  if (cursor.value === null) return sql`(${expression} is null and ${idBeyond})`
  const value = key.fromText(cursor.value)
  if (key.inEveryRow) {
    const fromThere = sql.raw(descending ? '<=' : '>=')
    return sql`(${expression} ${fromThere} ${value} and (${expression} ${beyond} ${value} or ${idBeyond}))`
  }
  return sql`(${expression} ${beyond} ${value} or ${expression} is null or (${expression} = ${value} and ${idBeyond}))`
}
