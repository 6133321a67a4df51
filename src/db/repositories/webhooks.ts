import { and, eq, getTableColumns, isNull, or, sql } from 'drizzle-orm'
import type { Page, PageRequest } from '../../contract/paging.js'
import type { WebhookEvent } from '../../contract/webhooks.js'
import type { Db } from '../client.js'
import { webhookDeliveries, webhookEvents, webhooks } from '../schema/index.js'
import { instantKey, keysetOf, textKey } from './paging.js'
import { type Change, changesNothing, lockVersion } from './versions.js'

export type WebhookRow = typeof webhooks.$inferSelect
export type WebhookValues = Omit<
  typeof webhooks.$inferInsert,
  'organisationId' | 'id' | 'createdAt' | 'version' | 'events'
> & { readonly events: WebhookEvent[] }

const SORT_KEYS = { createdAt: instantKey(webhooks.createdAt), name: textKey(webhooks.name) }

export async function pageOfWebhooks<Item>(
  db: Db,
  organisationId: string,
  request: PageRequest<keyof typeof SORT_KEYS>,
  toItem: (row: WebhookRow) => Item,
): Promise<Page<Item>> {
  const keyset = keysetOf('webhooks', request, SORT_KEYS, webhooks.id)
  const rows = await db
    .select({ ...getTableColumns(webhooks), cursorValue: keyset.cursorValue })
    .from(webhooks)
    .where(and(eq(webhooks.organisationId, organisationId), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toItem)
}

export async function findWebhook(db: Db, organisationId: string, id: string): Promise<WebhookRow | undefined> {
  const [row] = await db.select().from(webhooks).where(thisWebhook(organisationId, id))
  return row
}

export function lockWebhook(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, webhooks, organisationId, id)
}

export async function insertWebhook(tx: Db, organisationId: string, values: WebhookValues): Promise<WebhookRow> {
  const [row] = await tx
    .insert(webhooks)
    .values({ ...values, organisationId })
    .returning()
  return row!
}

export async function updateWebhook(
  tx: Db,
  organisationId: string,
  id: string,
  values: Change<WebhookValues>,
): Promise<void> {
  if (changesNothing(values)) return
  await tx.update(webhooks).set(values).where(thisWebhook(organisationId, id))
}

/** With all that was ever sent there. */
export async function deleteWebhook(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx.delete(webhooks).where(thisWebhook(organisationId, id))
}

/** Notes that it did not answer as it should, since when, if it had until now. */
export async function noteWebhookFails(tx: Db, organisationId: string, id: string, at: Date): Promise<void> {
  await tx
    .update(webhooks)
    .set({ failingSince: at.toISOString() })
    .where(and(thisWebhook(organisationId, id), isNull(webhooks.failingSince)))
}

export async function noteWebhookWorks(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx
    .update(webhooks)
    .set({ failingSince: null })
    .where(and(thisWebhook(organisationId, id), sql`${webhooks.failingSince} is not null`))
}

/** Whether anybody listens for one of these: what nobody listens for need not be put together. */
export async function isListenedFor(tx: Db, organisationId: string, events: readonly WebhookEvent[]): Promise<boolean> {
  const [row] = await tx
    .select({ id: webhooks.id })
    .from(webhooks)
    .where(
      and(
        eq(webhooks.organisationId, organisationId),
        eq(webhooks.enabled, true),
        or(...events.map((event) => sql`${event} = any(${webhooks.events})`)),
      ),
    )
    .limit(1)
  return row !== undefined
}

/** Writes an event down and a delivery for each endpoint that listens for it, or for the one that is named. */
export async function insertEvent(
  tx: Db,
  organisationId: string,
  { event, data }: { readonly event: string; readonly data: object },
  webhookId?: string,
): Promise<string> {
  const [made] = await tx
    .insert(webhookEvents)
    .values({ organisationId, event, data })
    .returning({ id: webhookEvents.id })
  const eventId = made!.id
  const listening =
    webhookId === undefined
      ? and(eq(webhooks.enabled, true), sql`${event} = any(${webhooks.events})`)
      : eq(webhooks.id, webhookId)
  const listeners = await tx
    .select({ webhookId: webhooks.id })
    .from(webhooks)
    .where(and(eq(webhooks.organisationId, organisationId), listening))
  if (listeners.length === 0) return eventId
  await tx.insert(webhookDeliveries).values(listeners.map((listener) => ({ organisationId, eventId, ...listener })))
  return eventId
}

function thisWebhook(organisationId: string, id: string) {
  return and(eq(webhooks.organisationId, organisationId), eq(webhooks.id, id))
}
