import { and, eq, type SQL, sql } from 'drizzle-orm'
import { boats, owners } from '../schema/index.js'

/** Whose rows may be read: an organisation's, narrowed to one owner's boats where `ownerEmail` is set. */
export interface Scope {
  readonly organisationId: string
  readonly ownerEmail?: string | undefined
}

/** Condition on `boats`: the scope's own. Every query that returns boats, or rows that hang on them, carries it. */
export function visibleBoats(scope: Scope): SQL {
  const inOrganisation = eq(boats.organisationId, scope.organisationId)
  if (scope.ownerEmail === undefined) return inOrganisation
  const ownedBy = sql`exists (select 1 from ${owners} where ${owners.organisationId} = ${boats.organisationId}
    and ${owners.id} = ${boats.ownerId} and lower(${owners.email}) = ${scope.ownerEmail.toLowerCase()})`
  return and(inOrganisation, ownedBy) as SQL
}
