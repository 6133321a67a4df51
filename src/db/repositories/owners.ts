import { and, eq, notExists, type SQL, sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import { boats, owners } from '../schema/index.js'

/** How a boat's owner is given: by name, by address or by both. */
export interface OwnerGiven {
  readonly name: string | null
  readonly email: string | null
}

/**
 * The owner of that name and address, made when new; null when neither is given. The row is held against removal until
 * the transaction ends, since somebody else may just be taking away its last boat: `do nothing` would look away from an
 * owner who is being removed, an update that touches no row waits and then makes them anew.
 */
export async function ownerIdFor(tx: Db, organisationId: string, given: OwnerGiven): Promise<string | null> {
  if (given.name === null && given.email === null) return null
  await tx
    .insert(owners)
    .values({ organisationId, ...given })
    .onConflictDoUpdate({
      target: [owners.organisationId, owners.name, owners.email],
      set: { version: owners.version },
      setWhere: sql`false`,
    })
  const [owner] = await tx
    .select({ id: owners.id })
    .from(owners)
    .where(
      and(eq(owners.organisationId, organisationId), same(owners.name, given.name), same(owners.email, given.email)),
    )
  if (!owner) throw new Error('the owner vanished while a boat was being given to them')
  return owner.id
}

/** Removes an owner who has no boat left. */
export async function removeOwnerWithoutBoats(tx: Db, organisationId: string, ownerId: string): Promise<void> {
  const thisOwner = and(eq(owners.organisationId, organisationId), eq(owners.id, ownerId))
  // Waits for whoever is giving this owner another boat; the statement after it then sees that boat.
  await tx.select({ id: owners.id }).from(owners).where(thisOwner).for('update')
  const theirBoats = tx
    .select({ one: sql`1` })
    .from(boats)
    .where(and(eq(boats.organisationId, organisationId), eq(boats.ownerId, ownerId)))
  await tx.delete(owners).where(and(thisOwner, notExists(theirBoats)))
}

function same(column: typeof owners.name | typeof owners.email, value: string | null): SQL {
  return sql`${column} is not distinct from ${value}::text`
}
