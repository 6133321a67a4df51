import { and, eq, gt, isNull, lt, or, sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import { idempotencyKeys } from '../schema/index.js'

export type IdempotencyRow = typeof idempotencyKeys.$inferSelect

export interface KeyOfRequest {
  readonly organisationId: string
  readonly actor: string
  readonly key: string
}

function isKey({ organisationId, actor, key }: KeyOfRequest) {
  return and(
    eq(idempotencyKeys.organisationId, organisationId),
    eq(idempotencyKeys.actor, actor),
    eq(idempotencyKeys.key, key),
  )
}

/** Takes the key; false when it is taken. Of two at once, one gets it. */
export async function reserveKey(db: Db, key: KeyOfRequest, requestSha256: string, at: Date): Promise<boolean> {
  const rows = await db
    .insert(idempotencyKeys)
    .values({ ...key, requestSha256, createdAt: at.toISOString() })
    .onConflictDoNothing()
    .returning({ key: idempotencyKeys.key })
  return rows.length === 1
}

export async function findKey(db: Db, key: KeyOfRequest): Promise<IdempotencyRow | undefined> {
  const [row] = await db.select().from(idempotencyKeys).where(isKey(key))
  return row
}

/**
 * Takes over a key whose request never answered, where it was taken longer ago, or, by a clock that has been put back since, that much ahead;
 * false when somebody else did first.
 */
export async function takeOverKey(db: Db, key: KeyOfRequest, longestMs: number, at: Date): Promise<boolean> {
  const earliest = new Date(at.getTime() - longestMs).toISOString()
  const latest = new Date(at.getTime() + longestMs).toISOString()
  const isAbandoned = or(lt(idempotencyKeys.createdAt, earliest), gt(idempotencyKeys.createdAt, latest))
  const rows = await db
    .update(idempotencyKeys)
    .set({ createdAt: at.toISOString() })
    .where(and(isKey(key), isNull(idempotencyKeys.status), isAbandoned))
    .returning({ key: idempotencyKeys.key })
  return rows.length === 1
}

export async function storeAnswer(
  db: Db,
  key: KeyOfRequest,
  answer: { status: number; headers: Record<string, string>; body: string },
): Promise<void> {
  await db.update(idempotencyKeys).set(answer).where(isKey(key))
}

export async function forgetKey(db: Db, key: KeyOfRequest): Promise<void> {
  await db.delete(idempotencyKeys).where(isKey(key))
}

/** Gives back the keys whose requests never answered. */
export async function forgetUnansweredKeys(db: Db): Promise<void> {
  await db.delete(idempotencyKeys).where(isNull(idempotencyKeys.status))
}

export async function forgetKeysBefore(db: Db, before: Date): Promise<void> {
  await db.delete(idempotencyKeys).where(sql`${idempotencyKeys.createdAt} < ${before.toISOString()}::timestamptz`)
}
