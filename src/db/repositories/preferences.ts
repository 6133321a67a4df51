import { eq, sql } from 'drizzle-orm'
import type { PreferencesChange } from '../../contract/preferences.js'
import type { Language } from '../../messages/languages.js'
import type { Db } from '../client.js'
import { authUsers, personPreferences } from '../schema/index.js'

export type PreferencesRow = typeof personPreferences.$inferSelect

export async function findPreferences(db: Db, userId: string): Promise<PreferencesRow | undefined> {
  const [row] = await db.select().from(personPreferences).where(eq(personPreferences.userId, userId))
  return row
}

/** What the person of this address chose to be written to in; undefined for strangers and for those who chose nothing. */
export async function languageOfAddress(db: Db, email: string): Promise<Language | undefined> {
  const [row] = await db
    .select({ language: personPreferences.language })
    .from(personPreferences)
    .innerJoin(authUsers, eq(authUsers.id, personPreferences.userId))
    .where(sql`lower(${authUsers.email}) = ${email.toLowerCase()}`)
  return row?.language ?? undefined
}

/** Changes what is given and keeps the rest; the first choice makes the row. */
export async function savePreferences(
  db: Db,
  userId: string,
  change: PreferencesChange,
  at: Date,
): Promise<PreferencesRow> {
  const [row] = await db
    .insert(personPreferences)
    .values({ userId, ...change, updatedAt: at })
    .onConflictDoUpdate({ target: personPreferences.userId, set: { ...change, updatedAt: at } })
    .returning()
  if (!row) throw new Error('the preferences were not saved')
  return row
}
