import { sql } from 'drizzle-orm'
import type { Db } from './client.js'

/** Who acts, in which organisation, and why: what the audit trail will say. */
export interface Acting {
  readonly organisationId: string
  /** "person:ada@example.org", "key:Lift phone", "import", "refit" */
  readonly actor: string
  readonly reason?: string | undefined
}

/**
 * Runs a service's work in one transaction on behalf of somebody: all of it or nothing is written, and the triggers of
 * the audit trail read who it was. Inside `work` use only `tx`: the embedded database has one connection, and a query
 * on the outer handle would wait for ever.
 */
export function inOrganisation<T>(db: Db, acting: Acting, work: (tx: Db) => Promise<T>): Promise<T> {
  return db.transaction(async (tx) => {
    await tx.execute(sql`select set_config('app.org', ${acting.organisationId}, true),
      set_config('app.actor', ${acting.actor}, true), set_config('app.reason', ${acting.reason ?? ''}, true)`)
    return work(tx as unknown as Db)
  })
}
