/**
 * The roles of the database that work is done by (migrations/0013): nobody signs in as them, whoever is connected takes them on.
 * `service` sees the rows of the organisation that a transaction works for, and none where none was said; `across` sees all
 * organisations, on the few tables that name who asks, what is due and what is old.
 */
export const DATABASE_ROLES = { service: 'anode_ledger_service', across: 'anode_ledger_across' } as const

export type DatabaseRole = (typeof DATABASE_ROLES)[keyof typeof DATABASE_ROLES]

/**
 * The address of a server with a role that each connection has from its first moment: where it may not be taken on, there is no connection.
 * Options that the address has stay.
 */
export function withRole(connectionString: string, role: DatabaseRole): string {
  const [address, query] = connectionString.split('?', 2)
  const parameters = new URLSearchParams(query)
  parameters.set('options', [parameters.get('options'), `-c role=${role}`].filter(Boolean).join(' '))
  return `${address}?${parameters}`
}
