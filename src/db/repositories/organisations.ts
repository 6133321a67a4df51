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
