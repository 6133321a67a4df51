import { and, eq, sql } from 'drizzle-orm'
import type { PgColumn, PgTable } from 'drizzle-orm/pg-core'
import type { Db } from '../client.js'

type VersionedTable = PgTable & { organisationId: PgColumn; id: PgColumn; version: PgColumn }

/**
 * The version of a row, which stays as it is until the transaction ends: of two that change one row, the second waits
 * here and then sees what the first made of it. Undefined when there is no such row.
 */
export async function lockVersion(
  tx: Db,
  table: VersionedTable,
  organisationId: string,
  id: string,
): Promise<number | undefined> {
  const [row] = await tx
    .select({ version: sql<number>`${table.version}` })
    .from(table as PgTable)
    .where(and(eq(table.organisationId, organisationId), eq(table.id, id)))
    .for('update')
  return row?.version
}

/** Columns to set; undefined ones stay as they are. */
export type Change<Values> = { readonly [Column in keyof Values]?: Values[Column] | undefined }

/** An UPDATE that sets nothing is no SQL. */
export function changesNothing(change: object): boolean {
  return Object.values(change).every((value) => value === undefined)
}
