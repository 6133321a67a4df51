import { and, asc, desc, eq, inArray, lt, notExists, sql } from 'drizzle-orm'
import type { Page } from '../../contract/paging.js'
import type { DeliveryQuery, DeliveryState } from '../../contract/webhooks.js'
import type { Db } from '../client.js'
import { webhookAttempts, webhookDeliveries, webhookEvents, webhooks } from '../schema/index.js'
import { type Lease, takeUnderLease } from './leases.js'
import { instantKey, keysetOf } from './paging.js'
import type { WebhookRow } from './webhooks.js'

export interface DeliveryKey {
  readonly organisationId: string
  readonly id: string
}

export interface AttemptValues {
  readonly at: string
  readonly durationMs: number
  readonly answered: number | null
  readonly answerStart: string | null
  readonly failure: string | null
}

export interface DeliveryRow extends DeliveryKey {
  readonly eventId: string
  readonly event: string
  readonly occurredAt: string
  readonly data: unknown
  readonly state: DeliveryState
  readonly attempts: number
  readonly nextAttemptAt: string | null
}

/** A delivery that is now the caller's to send. */
export interface ClaimedDelivery extends DeliveryRow {
  readonly webhook: WebhookRow
}

const COLUMNS = {
  organisationId: webhookDeliveries.organisationId,
  id: webhookDeliveries.id,
  eventId: webhookDeliveries.eventId,
  event: webhookEvents.event,
  occurredAt: webhookEvents.occurredAt,
  data: webhookEvents.data,
  state: webhookDeliveries.state,
  attempts: webhookDeliveries.attempts,
  nextAttemptAt: webhookDeliveries.nextAttemptAt,
}

/**
 * Takes deliveries that are due to endpoints that are on, the longest due first. Each goes to one caller alone, until the lease is
 * over: then its sender counts as lost.
 */
export async function claimDeliveries(db: Db, { now, leaseUntil, most }: Lease): Promise<ClaimedDelivery[]> {
  return db.transaction(async (transaction) => {
    const tx = transaction as unknown as Db
    const due = await tx
      .select({ ...COLUMNS, webhook: webhooks })
      .from(webhookDeliveries)
      .innerJoin(webhookEvents, ofEvent)
      .innerJoin(webhooks, ofWebhook)
      .where(
        and(
          eq(webhookDeliveries.state, 'waiting'),
          sql`${webhookDeliveries.nextAttemptAt} <= ${now.toISOString()}::timestamptz`,
          eq(webhooks.enabled, true),
        ),
      )
      .orderBy(asc(webhookDeliveries.nextAttemptAt), asc(webhookDeliveries.id))
      .limit(most)
      .for('update', { of: webhookDeliveries, skipLocked: true })
    return takeUnderLease(tx, webhookDeliveries, due, leaseUntil)
  })
}

/** What became of a delivery: `nextAttemptAt` while it waits for another try. Its webhook may have been deleted meanwhile: then nothing. */
export async function settleDelivery(
  tx: Db,
  key: DeliveryKey,
  settled: { readonly state: DeliveryState; readonly nextAttemptAt: string | null },
  attempt: AttemptValues,
): Promise<void> {
  const [there] = await tx
    .update(webhookDeliveries)
    .set(settled)
    .where(thisDelivery(key))
    .returning({ id: webhookDeliveries.id })
  if (there === undefined) return
  await tx.insert(webhookAttempts).values({ organisationId: key.organisationId, deliveryId: key.id, ...attempt })
}

/** Begins the tries of a delivery anew. */
export async function resetDelivery(tx: Db, key: DeliveryKey, at: Date): Promise<void> {
  await tx
    .update(webhookDeliveries)
    .set({ state: 'waiting', attempts: 0, nextAttemptAt: at.toISOString() })
    .where(thisDelivery(key))
}

const SORT_KEYS = { createdAt: instantKey(webhookDeliveries.createdAt) }

export async function pageOfDeliveries(
  db: Db,
  organisationId: string,
  webhookId: string,
  query: DeliveryQuery,
): Promise<Page<DeliveryRow>> {
  const keyset = keysetOf('webhook-deliveries', query, SORT_KEYS, webhookDeliveries.id)
  const rows = await db
    .select({ ...COLUMNS, cursorValue: keyset.cursorValue })
    .from(webhookDeliveries)
    .innerJoin(webhookEvents, ofEvent)
    .where(
      and(
        eq(webhookDeliveries.organisationId, organisationId),
        eq(webhookDeliveries.webhookId, webhookId),
        query.state && eq(webhookDeliveries.state, query.state),
        keyset.after,
      ),
    )
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, ({ cursorValue: _, ...row }) => row)
}

export async function findDelivery(db: Db, key: DeliveryKey, webhookId: string): Promise<DeliveryRow | undefined> {
  const [row] = await db
    .select(COLUMNS)
    .from(webhookDeliveries)
    .innerJoin(webhookEvents, ofEvent)
    .where(and(thisDelivery(key), eq(webhookDeliveries.webhookId, webhookId)))
  return row
}

/** Of an event that went to one endpoint alone. */
export async function deliveryOfEvent(
  db: Db,
  organisationId: string,
  eventId: string,
): Promise<DeliveryRow | undefined> {
  const [row] = await db
    .select(COLUMNS)
    .from(webhookDeliveries)
    .innerJoin(webhookEvents, ofEvent)
    .where(and(eq(webhookDeliveries.organisationId, organisationId), eq(webhookDeliveries.eventId, eventId)))
  return row
}

/** Every attempt at these deliveries, oldest first. */
export async function attemptsAt(
  db: Db,
  organisationId: string,
  deliveryIds: readonly string[],
): Promise<(AttemptValues & { readonly deliveryId: string })[]> {
  if (deliveryIds.length === 0) return []
  return db
    .select({
      deliveryId: webhookAttempts.deliveryId,
      at: webhookAttempts.at,
      durationMs: webhookAttempts.durationMs,
      answered: webhookAttempts.answered,
      answerStart: webhookAttempts.answerStart,
      failure: webhookAttempts.failure,
    })
    .from(webhookAttempts)
    .where(
      and(eq(webhookAttempts.organisationId, organisationId), inArray(webhookAttempts.deliveryId, [...deliveryIds])),
    )
    .orderBy(asc(webhookAttempts.number))
}

/** The last attempt at each of these deliveries. */
export async function lastAttemptsAt(
  db: Db,
  organisationId: string,
  deliveryIds: readonly string[],
): Promise<ReadonlyMap<string, AttemptValues>> {
  if (deliveryIds.length === 0) return new Map()
  const rows = await db
    .selectDistinctOn([webhookAttempts.deliveryId])
    .from(webhookAttempts)
    .where(
      and(eq(webhookAttempts.organisationId, organisationId), inArray(webhookAttempts.deliveryId, [...deliveryIds])),
    )
    .orderBy(webhookAttempts.deliveryId, desc(webhookAttempts.number))
  return new Map(rows.map((row) => [row.deliveryId, row]))
}

/** Forgets events from before an instant, with their deliveries; what still waits stays. */
export async function forgetEventsBefore(db: Db, before: Date): Promise<void> {
  const waiting = db
    .select({ one: sql`1` })
    .from(webhookDeliveries)
    .where(and(ofEvent, eq(webhookDeliveries.state, 'waiting')))
  await db.delete(webhookEvents).where(and(lt(webhookEvents.occurredAt, before.toISOString()), notExists(waiting)))
}

const ofEvent = and(
  eq(webhookEvents.organisationId, webhookDeliveries.organisationId),
  eq(webhookEvents.id, webhookDeliveries.eventId),
)
const ofWebhook = and(
  eq(webhooks.organisationId, webhookDeliveries.organisationId),
  eq(webhooks.id, webhookDeliveries.webhookId),
)

function thisDelivery({ organisationId, id }: DeliveryKey) {
  return and(eq(webhookDeliveries.organisationId, organisationId), eq(webhookDeliveries.id, id))
}
