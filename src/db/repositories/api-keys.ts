import { and, eq, getTableColumns, gt, isNull, or } from 'drizzle-orm'
import type { Page, PageRequest } from '../../contract/paging.js'
import type { Db } from '../client.js'
import { apiKeys } from '../schema/index.js'
import { instantKey, keysetOf, textKey } from './paging.js'

export type ApiKeyRow = typeof apiKeys.$inferSelect

/** The key whose secret, or the secret before it, has this hash, in whichever organisation: how a request finds out where it belongs. */
export async function findApiKeyByHash(db: Db, secretSha256: string): Promise<ApiKeyRow | undefined> {
  const [row] = await db
    .select()
    .from(apiKeys)
    .where(or(eq(apiKeys.secretSha256, secretSha256), eq(apiKeys.previousSecretSha256, secretSha256)))
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

/** How many keys may still manage the organisation at this instant. */
export async function countAdministratorKeys(db: Db, organisationId: string, at: Date): Promise<number> {
  return db.$count(
    apiKeys,
    and(
      eq(apiKeys.organisationId, organisationId),
      eq(apiKeys.role, 'administrator'),
      eq(apiKeys.scope, 'all'),
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

/** @param column by which of its secrets it was used */
export async function setApiKeyUsed(
  db: Db,
  key: ApiKeyRow,
  column: 'lastUsedAt' | 'previousUsedAt',
  at: Date,
): Promise<void> {
  await db
    .update(apiKeys)
    .set({ [column]: at.toISOString() })
    .where(and(eq(apiKeys.organisationId, key.organisationId), eq(apiKeys.id, key.id)))
}

/** The row is held until the transaction ends, so that of two renewals at once the second sees the first. */
export async function lockApiKey(db: Db, organisationId: string, id: string): Promise<ApiKeyRow | undefined> {
  const [row] = await db
    .select()
    .from(apiKeys)
    .where(and(eq(apiKeys.organisationId, organisationId), eq(apiKeys.id, id)))
    .for('update')
  return row
}

type RenewedSecret = Pick<ApiKeyRow, 'prefix' | 'secretSha256'>

/** Puts a new secret into the place of the present one, which becomes the one before it; null: it ends at once. */
export async function replaceApiKeySecret(
  db: Db,
  key: ApiKeyRow,
  { prefix, secretSha256 }: RenewedSecret,
  { at, previousUntil }: { at: Date; previousUntil: Date | null },
): Promise<ApiKeyRow> {
  const [row] = await db
    .update(apiKeys)
    .set({
      prefix,
      secretSha256,
      secretMadeAt: at.toISOString(),
      lastUsedAt: null,
      previousPrefix: previousUntil && key.prefix,
      previousSecretSha256: previousUntil && key.secretSha256,
      previousSecretUntil: previousUntil?.toISOString() ?? null,
      previousUsedAt: previousUntil && key.lastUsedAt,
    })
    .where(and(eq(apiKeys.organisationId, key.organisationId), eq(apiKeys.id, key.id)))
    .returning()
  if (!row) throw new Error('the API key went away while it was held')
  return row
}
