import { and, asc, eq, isNull, lt } from 'drizzle-orm'
import type { Db } from '../client.js'
import { authUsers, passkeyChallenges, passkeys } from '../schema/index.js'

export type PasskeyRow = typeof passkeys.$inferSelect

/** Of a person, the oldest first. */
export function passkeysOf(db: Db, userId: string): Promise<PasskeyRow[]> {
  return db
    .select()
    .from(passkeys)
    .where(eq(passkeys.userId, userId))
    .orderBy(asc(passkeys.createdAt), asc(passkeys.id))
}

/** With the address of the person whose it is. */
export async function findPasskey(db: Db, id: string): Promise<(PasskeyRow & { readonly email: string }) | undefined> {
  const [row] = await db
    .select({ passkey: passkeys, email: authUsers.email })
    .from(passkeys)
    .innerJoin(authUsers, eq(authUsers.id, passkeys.userId))
    .where(eq(passkeys.id, id))
  return row && { ...row.passkey, email: row.email }
}

/** @returns undefined where the key is known already, whosever it is */
export async function insertPasskey(
  db: Db,
  row: Omit<PasskeyRow, 'createdAt' | 'lastUsedAt'>,
): Promise<PasskeyRow | undefined> {
  const [made] = await db.insert(passkeys).values(row).onConflictDoNothing().returning()
  return made
}

export async function notePasskeyUsed(db: Db, id: string, counter: number, at: Date): Promise<void> {
  await db.update(passkeys).set({ counter, lastUsedAt: at.toISOString() }).where(eq(passkeys.id, id))
}

/** @returns whether there was one */
export async function deletePasskey(db: Db, userId: string, id: string): Promise<boolean> {
  const gone = await db
    .delete(passkeys)
    .where(and(eq(passkeys.userId, userId), eq(passkeys.id, id)))
    .returning({ id: passkeys.id })
  return gone.length > 0
}

interface NewChallenge {
  readonly challenge: string
  readonly userId: string | null
  readonly expiresAt: Date
}

/** @returns its id */
export async function insertChallenge(db: Db, { challenge, userId, expiresAt }: NewChallenge): Promise<string> {
  const [made] = await db
    .insert(passkeyChallenges)
    .values({ challenge, userId, expiresAt: expiresAt.toISOString() })
    .returning({ id: passkeyChallenges.id })
  return made!.id
}

/** Takes a challenge away, so that no second answer to it counts. @returns undefined where there is none for this person */
export async function spendChallenge(
  db: Db,
  id: string,
  userId: string | null,
  now: Date,
): Promise<string | undefined> {
  const whose = userId === null ? isNull(passkeyChallenges.userId) : eq(passkeyChallenges.userId, userId)
  const [spent] = await db
    .delete(passkeyChallenges)
    .where(and(eq(passkeyChallenges.id, id), whose))
    .returning({ challenge: passkeyChallenges.challenge, expiresAt: passkeyChallenges.expiresAt })
  return spent && new Date(spent.expiresAt) > now ? spent.challenge : undefined
}

export async function deleteChallengesBefore(db: Db, now: Date): Promise<void> {
  await db.delete(passkeyChallenges).where(lt(passkeyChallenges.expiresAt, now.toISOString()))
}
