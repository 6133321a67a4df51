import { inArray, sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import type { notices, webhookDeliveries } from '../schema/index.js'

/** What is sent by whoever takes it first, tried again when it failed or its sender was lost. */
type Outgoing = typeof notices | typeof webhookDeliveries

/** Which of what is due a sender takes, and until when it is theirs alone. */
export interface Lease {
  readonly now: Date
  readonly leaseUntil: Date
  readonly most: number
}

/** Marks rows that the transaction has locked as their taker's, until the lease is over: then the sender counts as lost. */
export async function takeUnderLease<Row extends { readonly id: string; readonly attempts: number }>(
  tx: Db,
  table: Outgoing,
  due: readonly Row[],
  leaseUntil: Date,
): Promise<Row[]> {
  if (due.length === 0) return []
  const ids = due.map(({ id }) => id)
  await tx
    .update(table)
    .set({ nextAttemptAt: leaseUntil.toISOString(), attempts: sql`${table.attempts} + 1` })
    .where(inArray(table.id, ids))
  return due.map((row) => ({ ...row, attempts: row.attempts + 1 }))
}
