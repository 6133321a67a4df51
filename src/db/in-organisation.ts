import { sql } from 'drizzle-orm'
import type { PgTransactionConfig } from 'drizzle-orm/pg-core'
import type { Db } from './client.js'

/** Who acts, in which organisation, and why: what the audit trail will say. */
export interface Acting {
  readonly organisationId: string
  /** "person:ada@example.org", "key:Lift phone", "import", "refit" */
  readonly actor: string
  readonly reason?: string | undefined
  /** Set for an owner: the address whose boats' rows are all there is. */
  readonly ownerEmail?: string | undefined
}

/**
 * Runs a service's work in one transaction on behalf of somebody: all of it or nothing is written, the database shows the rows of their
 * organisation alone (an owner's alone where `ownerEmail` is set), and the triggers of the audit trail read who it was. What it sets ends with
 * the transaction: the next one on the connection begins with nothing. Inside `work` use only `tx`: the embedded database has one
 * connection, and a query on the outer handle would wait for ever.
 */
export function inOrganisation<T>(
  db: Db,
  { organisationId, actor, reason = '', ownerEmail = '' }: Acting,
  work: (tx: Db) => Promise<T>,
  config?: PgTransactionConfig,
): Promise<T> {
  return db.transaction(async (tx) => {
    const named = tx
      .execute(sql`select set_config('app.org', ${organisationId}, true),
        set_config('app.owner', ${ownerEmail.toLowerCase()}, true),
        set_config('app.actor', ${actor}, true), set_config('app.reason', ${reason}, true)`)
      // Asked for at this moment: it goes ahead of the first statement of the work, which need not wait for its answer.
      .then(() => undefined)
    const [saying, working] = await Promise.allSettled([named, work(tx as unknown as Db)])
    if (saying.status === 'rejected') throw saying.reason
    if (working.status === 'rejected') throw working.reason
    return working.value
  }, config)
}

/** The same work for the whole organisation: what an owner is told of their boats may rest on all others. */
export function forWholeOrganisation({ organisationId, actor, reason }: Acting): Acting {
  return { organisationId, actor, reason }
}
