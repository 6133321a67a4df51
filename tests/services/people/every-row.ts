import { sql } from 'drizzle-orm'
import { rowsOf } from '../../../src/db/backup/table-shapes.js'
import type { Db } from '../../../src/db/client.js'

export interface RowThatSays {
  readonly table: string
  readonly organisation: string | null
  readonly row: string
}

/**
 * Rows of every table of every schema in which a text stands, in whatever column, without regard to case.
 *
 * @param aside a text that is taken out first, where it holds the other but means somebody else
 */
export async function everyRowThatSays(db: Db, text: string, aside = ''): Promise<RowThatSays[]> {
  const tables = await rowsOf<{ table: string }>(
    db,
    sql`select format('%I.%I', schemaname, tablename) as "table" from pg_tables
      where schemaname not in ('pg_catalog', 'information_schema') order by 1`,
  )
  const found: RowThatSays[] = []
  for (const { table } of tables) {
    const rows = await rowsOf<Omit<RowThatSays, 'table'>>(
      db,
      sql`select to_jsonb(t) ->> 'organisation_id' as organisation, t::text as row from ${sql.raw(table)} t
        where position(lower(${text}) in replace(lower(t::text), lower(${aside}), '')) > 0`,
    )
    found.push(...rows.map((row) => ({ table, ...row })))
  }
  return found
}
