import { and, desc, eq, lt } from 'drizzle-orm'
import { z } from 'zod'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../client.js'
import { auditEntries } from '../schema/index.js'
import { BadCursor } from './paging.js'

export type AuditEntryRow = typeof auditEntries.$inferSelect

export interface AuditFilter {
  readonly limit: number
  readonly cursor?: string | undefined
  readonly row?: string | undefined
  readonly table?: string | undefined
}

/** The audit trail backwards: numbers rise with time, so a page begins below the last one's lowest. */
export async function pageOfAuditEntries<Item>(
  db: Db,
  organisationId: string,
  filter: AuditFilter,
  toItem: (row: AuditEntryRow) => Item,
): Promise<Page<Item>> {
  const rows = await db
    .select()
    .from(auditEntries)
    .where(
      and(
        eq(auditEntries.organisationId, organisationId),
        filter.row === undefined ? undefined : eq(auditEntries.rowId, filter.row),
        filter.table === undefined ? undefined : eq(auditEntries.tableName, filter.table),
        filter.cursor === undefined ? undefined : lt(auditEntries.id, decodeCursor(filter.cursor)),
      ),
    )
    .orderBy(desc(auditEntries.id))
    .limit(filter.limit + 1)
  const shown = rows.slice(0, filter.limit)
  const last = rows.length > filter.limit ? shown.at(-1) : undefined
  return { items: shown.map(toItem), nextCursor: last ? encodeCursor(last.id) : null }
}

const CursorContent = z.templateLiteral(['audit ', z.int().positive()])

function encodeCursor(id: number): string {
  return Buffer.from(`audit ${id}`).toString('base64url')
}

function decodeCursor(text: string): number {
  const content = CursorContent.safeParse(Buffer.from(text, 'base64url').toString('utf8'))
  if (!content.success) throw new BadCursor()
  return Number(content.data.slice('audit '.length))
}
