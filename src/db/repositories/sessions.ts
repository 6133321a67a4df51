import { and, desc, eq, gt, ne } from 'drizzle-orm'
import type { Db } from '../client.js'
import { authSessions } from '../schema/index.js'

export type SessionRow = typeof authSessions.$inferSelect

/** Sessions of a person that still open the service, the one used last first. */
export function sessionsOf(db: Db, userId: string, now: Date): Promise<SessionRow[]> {
  return db
    .select()
    .from(authSessions)
    .where(and(eq(authSessions.userId, userId), gt(authSessions.expiresAt, now)))
    .orderBy(desc(authSessions.updatedAt), desc(authSessions.createdAt), authSessions.id)
}

/** @returns whether there was one */
export async function deleteSession(db: Db, userId: string, id: string): Promise<boolean> {
  const gone = await db
    .delete(authSessions)
    .where(and(eq(authSessions.userId, userId), eq(authSessions.id, id)))
    .returning({ id: authSessions.id })
  return gone.length > 0
}

/** @param but the session that stays, if any */
export async function deleteSessionsOf(db: Db, userId: string, but?: string): Promise<void> {
  const ofPerson = eq(authSessions.userId, userId)
  await db.delete(authSessions).where(but === undefined ? ofPerson : and(ofPerson, ne(authSessions.id, but)))
}
