import { eq } from 'drizzle-orm'
import type { PreferencesChange } from '../../contract/preferences.js'
import type { Db } from '../client.js'
import { personPreferences } from '../schema/index.js'

export type PreferencesRow = typeof personPreferences.$inferSelect

export async function findPreferences(db: Db, userId: string): Promise<PreferencesRow | undefined> {
  const [row] = await db.select().from(personPreferences).where(eq(personPreferences.userId, userId))
  return row
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
