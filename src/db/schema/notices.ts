import { sql } from 'drizzle-orm'
import {
  bigint,
  boolean,
  check,
  date,
  foreignKey,
  index,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  text,
  unique,
  uuid,
} from 'drizzle-orm/pg-core'
import { NOTICE_KINDS, NOTICE_STATES } from '../../contract/notices.js'
import { STAGES } from '../../engine/notices/notice-rules.js'
import { LANGUAGES } from '../../messages/languages.js'
import { boats } from './boats.js'
import { instant, rowKey, rowReference, tenantColumns } from './columns.js'
import { organisations } from './organisations.js'

/** When an organisation's owners are written to. */
export const reminderSettings = pgTable(
  'reminder_settings',
  {
    organisationId: uuid('organisation_id').notNull(),
    enabled: boolean('enabled').notNull().default(false),
    leadDays: integer('lead_days').notNull().default(60),
    quietFrom: integer('quiet_from').notNull().default(20),
    quietTo: integer('quiet_to').notNull().default(8),
    timeZone: text('time_zone').notNull().default('UTC'),
    language: text('language', { enum: LANGUAGES }).notNull().default('en'),
  },
  (table) => [
    primaryKey({ columns: [table.organisationId] }),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
  ],
)

/** What an address does not want, or does not take. */
export const noticeAddresses = pgTable(
  'notice_addresses',
  {
    organisationId: uuid('organisation_id').notNull(),
    email: text('email').notNull(),
    /** How early its reader wants the first letter; empty: as the organisation has it. */
    leadDays: integer('lead_days'),
    stoppedAt: instant('stopped_at'),
    /** The mail server would not have the address: nothing more is sent to it. */
    refusedAt: instant('refused_at'),
    refusal: text('refusal'),
  },
  (table) => [
    primaryKey({ columns: [table.organisationId, table.email] }),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    check('notice_addresses_lower_case', sql`${table.email} = lower(${table.email})`),
  ],
)

/** An owner's wishes for one boat. */
export const boatReminders = pgTable(
  'boat_reminders',
  {
    organisationId: uuid('organisation_id').notNull(),
    boatId: uuid('boat_id').notNull(),
    snoozedUntil: date('snoozed_until'),
    stoppedAt: instant('stopped_at'),
  },
  (table) => [
    primaryKey({ columns: [table.organisationId, table.boatId] }),
    rowReference(table, table.boatId, boats).onDelete('cascade'),
  ],
)

/** Letters, decided and on their way: one a boat, or one for many. */
export const notices = pgTable(
  'notices',
  {
    ...tenantColumns(),
    kind: text('kind', { enum: NOTICE_KINDS }).notNull(),
    boatId: uuid('boat_id'),
    email: text('email').notNull(),
    /** What it must not be sent twice of: a week's digest, say. */
    once: text('once').notNull(),
    decidedOn: date('decided_on').notNull(),
    why: jsonb('why').notNull(),
    state: text('state', { enum: NOTICE_STATES }).notNull().default('waiting'),
    attempts: integer('attempts').notNull().default(0),
    /** While somebody sends it, the instant at which they count as lost. */
    nextAttemptAt: instant('next_attempt_at'),
    sentAt: instant('sent_at'),
    failure: text('failure'),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    rowReference(table, table.boatId, boats).onDelete('cascade'),
    unique('notices_once').on(table.organisationId, table.email, table.once),
    index('notices_due').on(table.nextAttemptAt).where(sql`${table.state} = 'waiting'`),
    index('notices_log').on(table.organisationId, table.createdAt),
    check('notices_waiting_for_something', sql`(${table.state} = 'waiting') = (${table.nextAttemptAt} is not null)`),
  ],
)

/** What each address was told of each anode and finding: the guard against saying it twice. Only ever added to. */
export const noticesTold = pgTable(
  'notices_told',
  {
    organisationId: uuid('organisation_id').notNull(),
    id: uuid('id').notNull().default(sql`gen_random_uuid()`),
    noticeId: uuid('notice_id').notNull(),
    number: bigint('number', { mode: 'number' }).notNull().generatedAlwaysAsIdentity(),
    email: text('email').notNull(),
    /** An anode's id, or a finding's with how often it was reopened. */
    subject: text('subject').notNull(),
    isFinding: boolean('is_finding').notNull(),
    stage: text('stage', { enum: STAGES }).notNull(),
    turn: integer('turn').notNull(),
    toldOn: date('told_on').notNull(),
    p10: date('p10'),
    p90: date('p90'),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.noticeId, notices).onDelete('cascade'),
    unique('notices_told_once').on(table.organisationId, table.email, table.subject, table.turn, table.stage),
  ],
)
