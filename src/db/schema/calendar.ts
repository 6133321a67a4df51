import { sql } from 'drizzle-orm'
import { check, foreignKey, index, integer, jsonb, pgTable, primaryKey, text, unique, uuid } from 'drizzle-orm/pg-core'
import { FEED_SCOPES } from '../../contract/calendar-feeds.js'
import { LANGUAGES } from '../../messages/languages.js'
import { instant, rowKey, rowReference, tenantColumns } from './columns.js'
import { organisations } from './organisations.js'

/** Private links to calendars. Only the hash of a link's token is kept. */
export const calendarFeeds = pgTable(
  'calendar_feeds',
  {
    ...tenantColumns(),
    /** Whose it is: it opens what this person may see, for as long as they may. */
    email: text('email').notNull(),
    scope: text('scope', { enum: FEED_SCOPES }).notNull(),
    language: text('language', { enum: LANGUAGES }).notNull(),
    tokenSha256: text('token_sha256').notNull(),
    linkMadeAt: instant('link_made_at').notNull(),
    lastReadAt: instant('last_read_at'),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    unique('calendar_feeds_token').on(table.tokenSha256),
    index('calendar_feeds_person').on(table.organisationId, table.email),
    check('calendar_feeds_email_lower_case', sql`${table.email} = lower(${table.email})`),
  ],
)

/** What a feed gave out last of each event: its sequence rises when the event has changed since, and only then. */
export const calendarEntries = pgTable(
  'calendar_entries',
  {
    organisationId: uuid('organisation_id').notNull(),
    feedId: uuid('feed_id').notNull(),
    uid: text('uid').notNull(),
    sequence: integer('sequence').notNull().default(0),
    state: text('state', { enum: ['confirmed', 'cancelled'] }).notNull(),
    content: jsonb('content').notNull(),
    createdAt: instant('created_at').notNull(),
    changedAt: instant('changed_at').notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.organisationId, table.feedId, table.uid] }),
    rowReference(table, table.feedId, calendarFeeds).onDelete('cascade'),
  ],
)
