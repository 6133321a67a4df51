import { and, asc, eq, sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import { apiKeys } from '../schema/index.js'

export type ApiKeyRow = typeof apiKeys.$inferSelect

/** The key with this hash, in whichever organisation: how a request finds out where it belongs. */
export async function findApiKeyByHash(db: Db, secretSha256: string): Promise<ApiKeyRow | undefined> {
  const [row] = await db.select().from(apiKeys).where(eq(apiKeys.secretSha256, secretSha256))
  return row
}

export function listApiKeys(db: Db, organisationId: string): Promise<ApiKeyRow[]> {
  return db
    .select()
    .from(apiKeys)
    .where(eq(apiKeys.organisationId, organisationId))
    .orderBy(asc(apiKeys.createdAt), asc(apiKeys.id))
}

export async function findApiKey(db: Db, organisationId: string, id: string): Promise<ApiKeyRow | undefined> {
  const [row] = await db
    .select()
    .from(apiKeys)
    .where(and(eq(apiKeys.organisationId, organisationId), eq(apiKeys.id, id)))
  return row
}

export async function insertApiKey(db: Db, values: typeof apiKeys.$inferInsert): Promise<ApiKeyRow> {
  const [row] = await db.insert(apiKeys).values(values).returning()
  if (!row) throw new Error('the API key was not inserted')
  return row
}

export async function setApiKeyRevoked(db: Db, key: ApiKeyRow, at: Date): Promise<void> {
  await db
    .update(apiKeys)
    .set({ revokedAt: at.toISOString() })
    .where(and(eq(apiKeys.organisationId, key.organisationId), eq(apiKeys.id, key.id)))
}

export async function setApiKeyUsed(db: Db, key: ApiKeyRow, at: Date): Promise<void> {
  await db
    .update(apiKeys)
    .set({ lastUsedAt: sql`${at.toISOString()}::timestamptz` })
    .where(and(eq(apiKeys.organisationId, key.organisationId), eq(apiKeys.id, key.id)))
}
