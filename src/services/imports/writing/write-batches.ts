import { sql } from 'drizzle-orm'
import type { CsvFileName } from '../../../contract/csv/index.js'
import type { Db } from '../../../db/client.js'
import type { Batch } from '../planning/batch.js'
import { ROWS_A_STATEMENT, upsertRows, type Written } from './upsert-rows.js'

export type WrittenByFile = ReadonlyMap<CsvFileName, Written>

/** Writes the batches in their order, a few thousand rows at a time. */
export async function writeBatches(
  tx: Db,
  organisationId: string,
  batches: readonly Batch[],
  onRows: (rows: number) => void,
): Promise<WrittenByFile> {
  // A stay that ends and the next that begins may come in either order; together they must not overlap.
  await tx.execute(sql`set constraints all deferred`)
  const written = new Map<CsvFileName, Written>()
  for (const batch of batches) {
    for (let start = 0; start < batch.rows.length; start += ROWS_A_STATEMENT) {
      const rows = batch.rows.slice(start, start + ROWS_A_STATEMENT)
      const counts = await upsertRows(tx, organisationId, { ...batch, rows })
      if (batch.file) written.set(batch.file, sum(written.get(batch.file), counts))
      onRows(rows.length)
    }
  }
  await tx.execute(sql`set constraints all immediate`)
  return written
}

function sum(before: Written | undefined, more: Written): Written {
  return { created: (before?.created ?? 0) + more.created, updated: (before?.updated ?? 0) + more.updated }
}
