import { eq } from 'drizzle-orm'
import type { Db } from '../client.js'
import { organisations } from '../schema/index.js'

export type OrganisationRow = typeof organisations.$inferSelect

export async function findOrganisation(db: Db, id: string): Promise<OrganisationRow | undefined> {
  const [row] = await db.select().from(organisations).where(eq(organisations.id, id))
  return row
}

/** The organisation's row, held until the transaction ends: changes that must not meet queue up at it. */
export async function lockOrganisation(db: Db, id: string): Promise<OrganisationRow | undefined> {
  const [row] = await db.select().from(organisations).where(eq(organisations.id, id)).for('update')
  return row
}

/** Holds the organisation for its fits until the transaction ends: they queue up here, while people's rows are written on. */
export async function queueForFits(tx: Db, id: string): Promise<void> {
  // Not `update`, which would wait for every row that is being added to the organisation, and lock up with whoever adds some itself.
  await tx.select({ id: organisations.id }).from(organisations).where(eq(organisations.id, id)).for('no key update')
}

export async function anyOrganisation(db: Db): Promise<OrganisationRow | undefined> {
  const [row] = await db.select().from(organisations).orderBy(organisations.createdAt).limit(1)
  return row
}

export async function insertOrganisation(db: Db, values: typeof organisations.$inferInsert): Promise<void> {
  await db.insert(organisations).values(values)
}

export async function updateOrganisation(
  db: Db,
  id: string,
  change: Partial<Pick<OrganisationRow, 'name' | 'wastingThreshold' | 'falseDiscoveryRate'>>,
): Promise<OrganisationRow> {
  const [row] = await db.update(organisations).set(change).where(eq(organisations.id, id)).returning()
  if (!row) throw new Error('the organisation was not changed')
  return row
}

export async function idsOfOrganisations(db: Db): Promise<string[]> {
  const rows = await db.select({ id: organisations.id }).from(organisations)
  return rows.map(({ id }) => id)
}
