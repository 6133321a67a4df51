import { type AnyColumn, eq, type SQL, sql } from 'drizzle-orm'
import { looksLikeId } from '../../contract/names.js'

/** The row that a path or a filter means: by its id, or by its name. */
export function meantBy(table: { id: AnyColumn; name: AnyColumn }, nameOrId: string): SQL {
  return looksLikeId(nameOrId) ? eq(table.id, nameOrId) : eq(table.name, nameOrId)
}

/** Whether a text holds such a part, in either case; the part's own `%` and `_` stand for themselves. */
export function contains(column: AnyColumn, part: string): SQL {
  const literally = part.replaceAll(/[\\%_]/g, (character) => `\\${character}`)
  return sql`${column} ilike ${`%${literally}%`}`
}

/** An instant as the API shows it: UTC with `Z`. */
export function utcInstant(stored: string): string {
  return new Date(stored).toISOString()
}
