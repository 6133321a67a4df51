import type {
  ApiKeyCreated,
  ApiKeyQuery,
  ApiKeyRequest,
  ApiKeyView,
  KeyScope,
  SecretRenewal,
} from '../../contract/access.js'
import type { Page } from '../../contract/paging.js'
import type { Db, Handles } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  type ApiKeyRow,
  findApiKey,
  findApiKeyByHash,
  insertApiKey,
  lockApiKey,
  pageOfApiKeys,
  replaceApiKeySecret,
  setApiKeyRevoked,
  setApiKeyUsed,
} from '../../db/repositories/api-keys.js'
import type { Actor } from '../actor.js'
import { Conflict, Invalid, NotFound, Stale } from '../errors.js'
import { keepingAnAdministrator } from '../organisations/administrators.js'
import { makeSecret, sha256 } from './secrets.js'

/** So many characters of a key are kept in clear, so that people can tell their keys apart. */
const PREFIX_LENGTH = 8
const USE_NOTED_EVERY_MS = 60_000
const HOUR_MS = 3_600_000

/** A key to make; without a scope it may do all that its role may. */
type NewKey = Omit<ApiKeyRequest, 'scope'> & { readonly scope?: KeyScope }

export type KeyHolder =
  | { readonly state: 'valid'; readonly actor: Actor; readonly scope: KeyScope }
  | { readonly state: 'unknown' | 'expired' | 'revoked' | 'renewed' }

/** Keys of programs: made, told apart, taken away. Only their hashes are kept. */
export class ApiKeyService {
  private readonly db: Db
  private readonly across: Db
  private readonly now: () => Date

  constructor({ db, across }: Handles, now: () => Date) {
    this.db = db
    this.across = across
    this.now = now
  }

  /** Whose key this is, and whether it still opens anything. */
  async actorOf(secret: string): Promise<KeyHolder> {
    const hash = sha256(secret)
    const row = await findApiKeyByHash(this.across, hash)
    if (!row) return { state: 'unknown' }
    if (row.revokedAt !== null) return { state: 'revoked' }
    if (row.expiresAt !== null && new Date(row.expiresAt) <= this.now()) return { state: 'expired' }
    const isPrevious = row.secretSha256 !== hash
    if (isPrevious && !isBefore(this.now(), row.previousSecretUntil)) return { state: 'renewed' }
    await this.noteUse(row, isPrevious ? 'previousUsedAt' : 'lastUsedAt')
    const actor = { organisationId: row.organisationId, role: row.role, actor: `key:${row.name}` }
    return { state: 'valid', actor, scope: row.scope }
  }

  page(actor: Actor, query: ApiKeyQuery): Promise<Page<ApiKeyView>> {
    return inOrganisation(this.db, actor, (tx) =>
      pageOfApiKeys(tx, actor.organisationId, query, (row) => this.viewOf(row)),
    )
  }

  get(actor: Actor, id: string): Promise<ApiKeyView> {
    return inOrganisation(this.db, actor, async (tx) => this.viewOf(await existing(tx, actor, id)))
  }

  /** Makes a key; its secret is in the answer and nowhere else. */
  async create(actor: Actor, request: NewKey): Promise<ApiKeyCreated> {
    if (request.expiresAt !== undefined && new Date(request.expiresAt) <= this.now()) {
      throw new Invalid([{ pointer: '#/expiresAt', detail: 'expiresAt must lie in the future' }])
    }
    const secret = newSecret()
    const row = await inOrganisation(this.db, actor, (tx) =>
      insertApiKey(tx, { organisationId: actor.organisationId, ...keyValues(request, secret) }),
    )
    return { ...this.viewOf(row), secret }
  }

  /**
   * Makes another secret for the same key. The one before it opens for so many hours more, so that a program can change over at any time; the
   * one before that ends at once.
   *
   * @throws NotFound
   * @throws Stale
   * @throws Conflict for a key that opens nothing any more
   */
  async renew(actor: Actor, id: string, version: number, { overlapHours }: SecretRenewal): Promise<ApiKeyCreated> {
    const secret = newSecret()
    return inOrganisation(this.db, actor, async (tx) => {
      const row = await lockApiKey(tx, actor.organisationId, id)
      if (!row) throw new NotFound('the API key')
      if (row.version !== version) throw new Stale('the API key')
      const at = this.now()
      if (row.revokedAt !== null) throw new Conflict('the API key was revoked: make another one')
      if (row.expiresAt !== null && !isBefore(at, row.expiresAt)) {
        throw new Conflict('the API key has expired: make another one')
      }
      const previousUntil = overlapHours === 0 ? null : new Date(at.getTime() + overlapHours * HOUR_MS)
      const renewed = await replaceApiKeySecret(tx, row, secretValues(secret), { at, previousUntil })
      return { ...this.viewOf(renewed), secret }
    })
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

  private async noteUse(row: ApiKeyRow, column: 'lastUsedAt' | 'previousUsedAt'): Promise<void> {
    const now = this.now()
    const noted = row[column]
    const last = noted === null ? 0 : new Date(noted).getTime()
    if (now.getTime() - last < USE_NOTED_EVERY_MS) return
    const acting = { organisationId: row.organisationId, actor: `key:${row.name}` }
    await inOrganisation(this.db, acting, (tx) => setApiKeyUsed(tx, row, column, now))
  }

  private viewOf(row: ApiKeyRow): ApiKeyView {
    return {
      id: row.id,
      name: row.name,
      role: row.role as ApiKeyView['role'],
      scope: row.scope,
      prefix: row.prefix,
      createdAt: new Date(row.createdAt).toISOString(),
      secretMadeAt: new Date(row.secretMadeAt).toISOString(),
      previousSecret: isBefore(this.now(), row.previousSecretUntil) ? previousOf(row) : null,
      expiresAt: instant(row.expiresAt),
      lastUsedAt: instant(row.lastUsedAt),
      revokedAt: instant(row.revokedAt),
      version: row.version,
    }
  }
}

async function existing(db: Db, actor: Actor, id: string): Promise<ApiKeyRow> {
  const row = await findApiKey(db, actor.organisationId, id)
  if (!row) throw new NotFound('the API key')
  return row
}

/** Columns of a new key. */
export function keyValues(request: NewKey, secret: string) {
  return {
    name: request.name,
    role: request.role,
    scope: request.scope ?? 'all',
    ...secretValues(secret),
    expiresAt: request.expiresAt ?? null,
  }
}

const newSecret = () => `al_${makeSecret()}`
const secretValues = (secret: string) => ({ prefix: secret.slice(0, PREFIX_LENGTH), secretSha256: sha256(secret) })

function isBefore(now: Date, end: string | null): boolean {
  return end !== null && now < new Date(end)
}

function previousOf({ previousPrefix, previousSecretUntil, previousUsedAt }: ApiKeyRow): ApiKeyView['previousSecret'] {
  if (previousPrefix === null || previousSecretUntil === null) return null
  const until = new Date(previousSecretUntil).toISOString()
  return { prefix: previousPrefix, until, lastUsedAt: instant(previousUsedAt) }
}

function instant(value: string | null): string | null {
  return value === null ? null : new Date(value).toISOString()
}
