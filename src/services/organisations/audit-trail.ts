import { z } from 'zod'
import type { AuditEntryView, AuditQuery } from '../../contract/organisations.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { type AuditEntryRow, pageOfAuditEntries } from '../../db/repositories/audit-entries.js'
import type { Actor } from '../actor.js'

/** Columns that nobody needs to read, not even as a hash. */
const WITHHELD = new Set(['secret_sha256', 'previous_secret_sha256'])

const Row = z.record(z.string(), z.unknown())

/** Who changed what, when, from what to what. */
export class AuditTrail {
  private readonly db: Db

  constructor(db: Db) {
    this.db = db
  }

  page(actor: Actor, query: AuditQuery): Promise<Page<AuditEntryView>> {
    return inOrganisation(this.db, actor, (tx) => pageOfAuditEntries(tx, actor.organisationId, query, viewOf))
  }
}

function viewOf(row: AuditEntryRow): AuditEntryView {
  return {
    id: String(row.id),
    at: new Date(row.at).toISOString(),
    actor: row.actor,
    action: row.action,
    table: row.tableName,
    row: row.rowId,
    reason: row.reason,
    before: shown(row.before),
    after: shown(row.after),
  }
}

function shown(row: unknown): Record<string, unknown> | null {
  if (row === null) return null
  return Object.fromEntries(Object.entries(Row.parse(row)).filter(([column]) => !WITHHELD.has(column)))
}
