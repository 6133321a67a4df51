import { type AnyColumn, eq, type SQL, sql } from 'drizzle-orm'
import { looksLikeId } from '../../contract/names.js'

/** The row that a path or a filter means: by its id, or by its name. */
export function meantBy(table: { id: AnyColumn; name: AnyColumn }, nameOrId: string): SQL {
  return looksLikeId(nameOrId) ? eq(table.id, nameOrId) : eq(table.name, nameOrId)
}

/** Whether a text holds such a part, in either case; the part's own `%` and `_` stand for themselves. */
export function contains(column: AnyColumn, part: string): SQL {
  return sql`${column} ilike ${patternOf(part)}`
}

/**
 * The same for a part that many rows hold. The planner, which may not look into what row-level security guards, would expect few, and read
 * all there are to sort those; taken for nearly always true, they are met along the order of the list.
 */
export function containsOften(column: AnyColumn, part: string): SQL {
  return sql`nullif(${contains(column, part)}, false) is not null`
}

/** A pattern of ILIKE for texts that hold this part. */
export function patternOf(part: string): string {
  return `%${part.replaceAll(/[\\%_]/g, (character) => `\\${character}`)}%`
}

/** An instant as the API shows it: UTC with `Z`. */
export function utcInstant(stored: string): string {
  return new Date(stored).toISOString()
}
