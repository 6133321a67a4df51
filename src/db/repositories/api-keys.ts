import { and, eq, getTableColumns, gt, isNull, or } from 'drizzle-orm'
import type { Page, PageRequest } from '../../contract/paging.js'
import type { Db } from '../client.js'
import { apiKeys } from '../schema/index.js'
import { instantKey, keysetOf, textKey } from './paging.js'

export type ApiKeyRow = typeof apiKeys.$inferSelect

/** The key with this hash, in whichever organisation: how a request finds out where it belongs. */
export async function findApiKeyByHash(db: Db, secretSha256: string): Promise<ApiKeyRow | undefined> {
  const [row] = await db.select().from(apiKeys).where(eq(apiKeys.secretSha256, secretSha256))
  return row
}

const SORT_KEYS = { createdAt: instantKey(apiKeys.createdAt), name: textKey(apiKeys.name) }

export async function pageOfApiKeys<Item>(
  db: Db,
  organisationId: string,
  request: PageRequest<keyof typeof SORT_KEYS>,
  toItem: (row: ApiKeyRow) => Item,
): Promise<Page<Item>> {
  const keyset = keysetOf('api-keys', request, SORT_KEYS, apiKeys.id)
  const rows = await db
    .select({ ...getTableColumns(apiKeys), cursorValue: keyset.cursorValue })
    .from(apiKeys)
    .where(and(eq(apiKeys.organisationId, organisationId), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toItem)
}

/** How many keys with the role administrator still open the organisation at this instant. */
export async function countAdministratorKeys(db: Db, organisationId: string, at: Date): Promise<number> {
  return db.$count(
    apiKeys,
    and(
      eq(apiKeys.organisationId, organisationId),
      eq(apiKeys.role, 'administrator'),
      isNull(apiKeys.revokedAt),
      or(isNull(apiKeys.expiresAt), gt(apiKeys.expiresAt, at.toISOString())),
    ),
  )
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
    .set({ lastUsedAt: at.toISOString() })
    .where(and(eq(apiKeys.organisationId, key.organisationId), eq(apiKeys.id, key.id)))
}
