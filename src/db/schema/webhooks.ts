import { sql } from 'drizzle-orm'
import { bigint, boolean, check, foreignKey, index, integer, jsonb, pgTable, text, uuid } from 'drizzle-orm/pg-core'
import { DELIVERY_STATES, WEBHOOK_EVENTS } from '../../contract/webhooks.js'
import { instant, rowKey, rowReference, tenantColumns } from './columns.js'
import { organisations } from './organisations.js'

/** Addresses of other systems that are told what happens. */
export const webhooks = pgTable(
  'webhooks',
  {
    ...tenantColumns(),
    name: text('name').notNull(),
    url: text('url').notNull(),
    events: text('events', { enum: WEBHOOK_EVENTS }).array().notNull(),
    enabled: boolean('enabled').notNull().default(true),
    disabledBecause: text('disabled_because', { enum: ['person', 'failed-too-long', 'gone'] }),
    /** As it is, not hashed: it signs. Hence the table is in no audit trail and in no export. */
    secret: text('secret').notNull(),
    previousSecret: text('previous_secret'),
    previousSecretUntil: instant('previous_secret_until'),
    failingSince: instant('failing_since'),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    check('webhooks_name_not_empty', sql`length(trim(${table.name})) > 0`),
    check('webhooks_disabled_for_a_reason', sql`${table.enabled} = (${table.disabledBecause} is null)`),
  ],
)

/** What happened, written in the transaction in which it did. */
export const webhookEvents = pgTable(
  'webhook_events',
  {
    organisationId: uuid('organisation_id').notNull(),
    id: uuid('id').notNull().default(sql`gen_random_uuid()`),
    event: text('event').notNull(),
    occurredAt: instant('occurred_at').notNull().defaultNow(),
    data: jsonb('data').notNull(),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    index('webhook_events_age').on(table.occurredAt),
  ],
)

/** One event on its way to one endpoint. */
export const webhookDeliveries = pgTable(
  'webhook_deliveries',
  {
    organisationId: uuid('organisation_id').notNull(),
    id: uuid('id').notNull().default(sql`gen_random_uuid()`),
    webhookId: uuid('webhook_id').notNull(),
    eventId: uuid('event_id').notNull(),
    state: text('state', { enum: DELIVERY_STATES }).notNull().default('waiting'),
    /** Of the present round: a replay begins again. */
    attempts: integer('attempts').notNull().default(0),
    /** While somebody sends it, the instant at which they count as lost. Empty: nothing more is tried. */
    nextAttemptAt: instant('next_attempt_at').defaultNow(),
    createdAt: instant('created_at').notNull().defaultNow(),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.webhookId, webhooks).onDelete('cascade'),
    rowReference(table, table.eventId, webhookEvents).onDelete('cascade'),
    index('webhook_deliveries_due').on(table.nextAttemptAt).where(sql`${table.state} = 'waiting'`),
    index('webhook_deliveries_log').on(table.organisationId, table.webhookId, table.createdAt),
    check(
      'webhook_deliveries_waiting_for_something',
      sql`(${table.state} = 'waiting') = (${table.nextAttemptAt} is not null)`,
    ),
  ],
)

/** Each time it was tried, and what was answered. Only ever added to. */
export const webhookAttempts = pgTable(
  'webhook_attempts',
  {
    organisationId: uuid('organisation_id').notNull(),
    id: uuid('id').notNull().default(sql`gen_random_uuid()`),
    deliveryId: uuid('delivery_id').notNull(),
    number: bigint('number', { mode: 'number' }).notNull().generatedAlwaysAsIdentity(),
    at: instant('at').notNull(),
    durationMs: integer('duration_ms').notNull(),
    answered: integer('answered'),
    answerStart: text('answer_start'),
    failure: text('failure'),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.deliveryId, webhookDeliveries).onDelete('cascade'),
    index('webhook_attempts_delivery').on(table.organisationId, table.deliveryId),
  ],
)
