import { sql } from 'drizzle-orm'
import {
  bigint,
  check,
  doublePrecision,
  foreignKey,
  index,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  text,
  uuid,
} from 'drizzle-orm/pg-core'
import { JOB_STATES } from '../../contract/vocabulary.js'
import { instant, rowKey, tenantColumns } from './columns.js'
import { organisations } from './organisations.js'

/** Work in the background as a caller may follow it. The queue that runs it has tables of its own (schema `jobs`). */
export const jobs = pgTable(
  'jobs',
  {
    ...tenantColumns(),
    kind: text('kind').notNull(),
    state: text('state', { enum: JOB_STATES }).notNull().default('queued'),
    /** Share done, 0 to 1. */
    progress: doublePrecision('progress').notNull().default(0),
    step: text('step'),
    error: text('error'),
    startedAt: instant('started_at'),
    /** Told every few seconds while it runs: a job whose beat stopped has lost its process, and is queued again. */
    heartbeatAt: instant('heartbeat_at'),
    finishedAt: instant('finished_at'),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    index('jobs_state').on(table.organisationId, table.state),
    check('jobs_progress_is_a_share', sql`${table.progress} between 0 and 1`),
  ],
)

/** Who changed what, when, from what to what. Written by triggers alone, so that no path can forget it. */
export const auditEntries = pgTable(
  'audit_entries',
  {
    organisationId: uuid('organisation_id').notNull(),
    id: bigint('id', { mode: 'number' }).notNull().generatedAlwaysAsIdentity(),
    at: instant('at').notNull().defaultNow(),
    actor: text('actor').notNull(),
    action: text('action', { enum: ['insert', 'update', 'delete'] }).notNull(),
    tableName: text('table_name').notNull(),
    rowId: uuid('row_id').notNull(),
    reason: text('reason'),
    before: jsonb('before'),
    after: jsonb('after'),
  },
  (table) => [rowKey(table), index('audit_entries_row').on(table.organisationId, table.rowId)],
)

/** Answers to POSTs that carried an Idempotency-Key: the same request again gets the same answer. */
export const idempotencyKeys = pgTable(
  'idempotency_keys',
  {
    organisationId: uuid('organisation_id').notNull(),
    actor: text('actor').notNull(),
    key: text('key').notNull(),
    /** Of method, path and body: the same key with another request is refused. */
    requestSha256: text('request_sha256').notNull(),
    status: integer('status'),
    headers: jsonb('headers'),
    body: text('body'),
    createdAt: instant('created_at').notNull().defaultNow(),
  },
  (table) => [
    primaryKey({ columns: [table.organisationId, table.actor, table.key] }),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    index('idempotency_keys_age').on(table.createdAt),
    check('idempotency_keys_key_length', sql`length(${table.key}) between 1 and 255`),
  ],
)
