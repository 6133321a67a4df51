import { sql } from 'drizzle-orm'
import {
  bigint,
  check,
  date,
  doublePrecision,
  foreignKey,
  index,
  integer,
  jsonb,
  pgTable,
  text,
  uuid,
} from 'drizzle-orm/pg-core'
import { CONFIRMABLE_CAUSES, FINDING_DIRECTIONS, FINDING_EVENTS, FINDING_STATES } from '../../contract/vocabulary.js'
import { SCOPES } from '../../engine/diagnosis/anomaly.js'
import { anodes } from './anodes.js'
import { berths, pontoons } from './berths.js'
import { boats } from './boats.js'
import { instant, rowKey, rowReference, tenantColumns } from './columns.js'
import { organisations } from './organisations.js'

/**
 * Abnormal wear of an anode, a boat, a berth or a pontoon. One fault is one finding; it is never deleted but with its boat. What it
 * was found on may go: the references of an anode, a berth or a pontoon are emptied then (migration 0007), `detail` keeps the names.
 */
export const findings = pgTable(
  'findings',
  {
    ...tenantColumns(),
    scope: text('scope', { enum: SCOPES }).notNull(),
    /** Of an anode's and a boat's. */
    boatId: uuid('boat_id'),
    anodeId: uuid('anode_id'),
    berthId: uuid('berth_id'),
    pontoonId: uuid('pontoon_id'),
    direction: text('direction', { enum: FINDING_DIRECTIONS }).notNull(),
    state: text('state', { enum: FINDING_STATES }).notNull().default('open'),
    sinceOn: date('since_on').notNull(),
    /** Standardised: a rate so many standard deviations from what was predicted without it. */
    surprise: doublePrecision('surprise').notNull(),
    /** What the engine said of it last, with the ids of its anodes. */
    detail: jsonb('detail').notNull(),
    openedOn: date('opened_on').notNull(),
    /** Day of the fit that saw it last, and the newest entry of the audit trail that this fit knew of. */
    asOf: date('as_of').notNull(),
    seenRevision: bigint('seen_revision', { mode: 'number' }).notNull(),
    notSeenSince: date('not_seen_since'),
    confirmedCause: text('confirmed_cause', { enum: CONFIRMABLE_CAUSES }),
    resolvedOn: date('resolved_on'),
    reopened: integer('reopened').notNull().default(0),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    rowReference(table, table.boatId, boats).onDelete('cascade'),
    rowReference(table, table.anodeId, anodes),
    rowReference(table, table.berthId, berths),
    rowReference(table, table.pontoonId, pontoons),
    index('findings_state').on(table.organisationId, table.state),
    check('findings_of_something', sql`(${table.scope} in ('anode', 'boat')) = (${table.boatId} is not null)`),
    check('findings_resolved_on_a_day', sql`${table.state} <> 'resolved' or ${table.resolvedOn} is not null`),
  ],
)

/** The life of a finding, step by step. Only ever added to. */
export const findingEvents = pgTable(
  'finding_events',
  {
    organisationId: uuid('organisation_id').notNull(),
    id: uuid('id').notNull().default(sql`gen_random_uuid()`),
    findingId: uuid('finding_id').notNull(),
    /** Rises with time: steps of one transaction share their instant. */
    number: bigint('number', { mode: 'number' }).notNull().generatedAlwaysAsIdentity(),
    at: instant('at').notNull().defaultNow(),
    actor: text('actor').notNull(),
    kind: text('kind', { enum: FINDING_EVENTS }).notNull(),
    fromState: text('from_state', { enum: FINDING_STATES }),
    toState: text('to_state', { enum: FINDING_STATES }).notNull(),
    note: text('note'),
    /** The check with its outcome, or what was done. */
    data: jsonb('data'),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.findingId, findings).onDelete('cascade'),
    index('finding_events_finding').on(table.organisationId, table.findingId),
  ],
)
