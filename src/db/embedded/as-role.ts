import type { PGlite, Transaction } from '@electric-sql/pglite'
import type { StatementWatch } from '../../telemetry/statement-watch.js'
import type { DatabaseRole } from '../roles.js'

/**
 * The embedded database as a role sees it: whatever is asked, one statement or a transaction, is asked in a transaction that has taken the role
 * on, which ends with it. It has the two methods that the query builder calls.
 */
export function asRole(lite: PGlite, role: DatabaseRole, watch: StatementWatch): PGlite {
  const inRole = <T>(work: (tx: Transaction) => Promise<T>) =>
    lite.transaction(async (tx) => {
      await tx.exec(`set local role ${role}`)
      return work(timed(tx, watch))
    })
  const client: Pick<PGlite, 'query' | 'transaction'> = {
    query: (text, values, options) => inRole((tx) => tx.query(text, values, options)),
    transaction: inRole,
  }
  return client as PGlite
}

/** Statements of a transaction that has begun: waiting for the one connection is not theirs. */
function timed(tx: Transaction, watch: StatementWatch): Transaction {
  const query: Transaction['query'] = (text, values, options) =>
    watch.during(text, () => tx.query(text, values, options))
  return new Proxy(tx, { get: (target, name) => (name === 'query' ? query : Reflect.get(target, name, target)) })
}
