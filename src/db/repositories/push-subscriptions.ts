import { and, asc, eq, isNull, notInArray, or, sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import { authSessions, authUsers, pushSubscriptions, serviceKeys } from '../schema/index.js'

export type PushSubscriptionRow = typeof pushSubscriptions.$inferSelect

/** A browser belongs to whoever subscribed on it last. */
export async function saveSubscription(
  db: Db,
  { endpoint, ...rest }: Omit<PushSubscriptionRow, 'id' | 'createdAt'>,
): Promise<void> {
  await db
    .insert(pushSubscriptions)
    .values({ endpoint, ...rest })
    .onConflictDoUpdate({ target: pushSubscriptions.endpoint, set: rest })
}

export async function deleteSubscription(db: Db, userId: string, endpoint: string): Promise<void> {
  await db
    .delete(pushSubscriptions)
    .where(and(eq(pushSubscriptions.userId, userId), eq(pushSubscriptions.endpoint, endpoint)))
}

/** Of a person: those of no session that is still there. */
export async function deleteSubscriptionsSignedOut(db: Db, userId: string): Promise<void> {
  const there = db.select({ id: authSessions.id }).from(authSessions).where(eq(authSessions.userId, userId))
  const isSignedOut = or(isNull(pushSubscriptions.sessionId), notInArray(pushSubscriptions.sessionId, there))
  await db.delete(pushSubscriptions).where(and(eq(pushSubscriptions.userId, userId), isSignedOut))
}

export async function deleteSubscriptionById(db: Db, id: string): Promise<void> {
  await db.delete(pushSubscriptions).where(eq(pushSubscriptions.id, id))
}

export function subscriptionsOfUser(db: Db, userId: string): Promise<PushSubscriptionRow[]> {
  return db
    .select()
    .from(pushSubscriptions)
    .where(eq(pushSubscriptions.userId, userId))
    .orderBy(asc(pushSubscriptions.createdAt), asc(pushSubscriptions.id))
}

/** The browsers of the person with this address, in any case of its letters. */
export async function subscriptionsOfAddress(db: Db, email: string): Promise<PushSubscriptionRow[]> {
  const rows = await db
    .select({ subscription: pushSubscriptions })
    .from(pushSubscriptions)
    .innerJoin(authUsers, eq(authUsers.id, pushSubscriptions.userId))
    .where(sql`lower(${authUsers.email}) = ${email.toLowerCase()}`)
    .orderBy(asc(pushSubscriptions.createdAt), asc(pushSubscriptions.id))
  return rows.map(({ subscription }) => subscription)
}

/** What is kept under a name; of two processes that make it at once, both go on with the first one's. */
export async function keptServiceKey(db: Db, name: string, make: () => unknown): Promise<unknown> {
  const read = () => db.select({ value: serviceKeys.value }).from(serviceKeys).where(eq(serviceKeys.name, name))
  const [kept] = await read()
  if (kept !== undefined) return kept.value
  await db.insert(serviceKeys).values({ name, value: make() }).onConflictDoNothing()
  const [made] = await read()
  return made!.value
}
