import type { ApiKeyCreated, ApiKeyQuery, ApiKeyRequest, ApiKeyView } from '../../contract/access.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  type ApiKeyRow,
  findApiKey,
  findApiKeyByHash,
  insertApiKey,
  pageOfApiKeys,
  setApiKeyRevoked,
  setApiKeyUsed,
} from '../../db/repositories/api-keys.js'
import type { Actor } from '../actor.js'
import { Invalid, NotFound, Stale } from '../errors.js'
import { keepingAnAdministrator } from '../organisations/administrators.js'
import { makeSecret, sha256 } from './secrets.js'

/** So many characters of a key are kept in clear, so that people can tell their keys apart. */
const PREFIX_LENGTH = 8
const USE_NOTED_EVERY_MS = 60_000

export type KeyHolder =
  | { readonly state: 'valid'; readonly actor: Actor }
  | { readonly state: 'unknown' | 'expired' | 'revoked' }

/** Keys of programs: made, told apart, taken away. Only their hashes are kept. */
export class ApiKeyService {
  private readonly db: Db
  private readonly now: () => Date

  constructor(db: Db, now: () => Date) {
    this.db = db
    this.now = now
  }

  /** Whose key this is, and whether it still opens anything. */
  async actorOf(secret: string): Promise<KeyHolder> {
    const row = await findApiKeyByHash(this.db, sha256(secret))
    if (!row) return { state: 'unknown' }
    if (row.revokedAt !== null) return { state: 'revoked' }
    if (row.expiresAt !== null && new Date(row.expiresAt) <= this.now()) return { state: 'expired' }
    await this.noteUse(row)
    return { state: 'valid', actor: { organisationId: row.organisationId, role: row.role, actor: `key:${row.name}` } }
  }

  page(actor: Actor, query: ApiKeyQuery): Promise<Page<ApiKeyView>> {
    return pageOfApiKeys(this.db, actor.organisationId, query, viewOf)
  }

  async get(actor: Actor, id: string): Promise<ApiKeyView> {
    return viewOf(await existing(this.db, actor, id))
  }

  /** Makes a key; its secret is in the answer and nowhere else. */
  async create(actor: Actor, request: ApiKeyRequest): Promise<ApiKeyCreated> {
    if (request.expiresAt !== undefined && new Date(request.expiresAt) <= this.now()) {
      throw new Invalid([{ pointer: '#/expiresAt', detail: 'expiresAt must lie in the future' }])
    }
    const secret = `al_${makeSecret()}`
    const row = await inOrganisation(this.db, actor, (tx) =>
      insertApiKey(tx, { organisationId: actor.organisationId, ...keyValues(request, secret) }),
    )
    return { ...viewOf(row), secret }
  }

  /** A revoked key opens nothing from the next request on; its row stays, for the audit trail names it. */
  async revoke(actor: Actor, id: string, version: number): Promise<void> {
    await inOrganisation(this.db, actor, (tx) =>
      keepingAnAdministrator(tx, actor.organisationId, this.now(), async () => {
        const row = await existing(tx, actor, id)
        if (row.version !== version) throw new Stale('the API key')
        if (row.revokedAt === null) await setApiKeyRevoked(tx, row, this.now())
      }),
    )
  }

  private async noteUse(row: ApiKeyRow): Promise<void> {
    const now = this.now()
    const last = row.lastUsedAt === null ? 0 : new Date(row.lastUsedAt).getTime()
    if (now.getTime() - last < USE_NOTED_EVERY_MS) return
    await setApiKeyUsed(this.db, row, now)
  }
}

async function existing(db: Db, actor: Actor, id: string): Promise<ApiKeyRow> {
  const row = await findApiKey(db, actor.organisationId, id)
  if (!row) throw new NotFound('the API key')
  return row
}

/** Columns of a new key. */
export function keyValues(request: ApiKeyRequest, secret: string) {
  return {
    name: request.name,
    role: request.role,
    prefix: secret.slice(0, PREFIX_LENGTH),
    secretSha256: sha256(secret),
    expiresAt: request.expiresAt ?? null,
  }
}

function viewOf(row: ApiKeyRow): ApiKeyView {
  return {
    id: row.id,
    name: row.name,
    role: row.role as ApiKeyView['role'],
    prefix: row.prefix,
    createdAt: new Date(row.createdAt).toISOString(),
    expiresAt: instant(row.expiresAt),
    lastUsedAt: instant(row.lastUsedAt),
    revokedAt: instant(row.revokedAt),
    version: row.version,
  }
}

function instant(value: string | null): string | null {
  return value === null ? null : new Date(value).toISOString()
}
