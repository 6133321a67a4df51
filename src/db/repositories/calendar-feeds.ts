import { and, asc, eq, sql } from 'drizzle-orm'
import type { FeedScope } from '../../contract/calendar-feeds.js'
import type { Language } from '../../messages/languages.js'
import type { Db } from '../client.js'
import { calendarEntries, calendarFeeds } from '../schema/index.js'
import { lockVersion } from './versions.js'

export type FeedRow = typeof calendarFeeds.$inferSelect
export type EntryRow = Omit<typeof calendarEntries.$inferSelect, 'organisationId' | 'feedId'>

/** Whose feeds, in which organisation. */
export interface FeedOwner {
  readonly organisationId: string
  readonly email: string
}

export interface NewFeed extends FeedOwner {
  readonly scope: FeedScope
  readonly language: Language
  readonly tokenSha256: string
  readonly linkMadeAt: string
}

export function feedsOf(db: Db, owner: FeedOwner): Promise<FeedRow[]> {
  return db
    .select()
    .from(calendarFeeds)
    .where(ofOwner(owner))
    .orderBy(asc(calendarFeeds.createdAt), asc(calendarFeeds.id))
}

/** The feed that a link opens, in whichever organisation. */
export async function findFeedByHash(db: Db, tokenSha256: string): Promise<FeedRow | undefined> {
  const [row] = await db.select().from(calendarFeeds).where(eq(calendarFeeds.tokenSha256, tokenSha256))
  return row
}

export async function findFeed(db: Db, owner: FeedOwner, id: string): Promise<FeedRow | undefined> {
  const [row] = await db
    .select()
    .from(calendarFeeds)
    .where(and(ofOwner(owner), eq(calendarFeeds.id, id)))
  return row
}

/** Held until the transaction ends: of two programs that read it at once, the second gives out what the first did. */
export function lockFeed(tx: Db, organisationId: string, id: string): Promise<number | undefined> {
  return lockVersion(tx, calendarFeeds, organisationId, id)
}

export async function insertFeed(tx: Db, values: NewFeed): Promise<FeedRow> {
  const [row] = await tx.insert(calendarFeeds).values(values).returning()
  return row!
}

export async function renewFeed(
  tx: Db,
  { organisationId, id }: Pick<FeedRow, 'organisationId' | 'id'>,
  link: Pick<NewFeed, 'tokenSha256' | 'linkMadeAt'>,
): Promise<void> {
  await tx.update(calendarFeeds).set(link).where(thisFeed(organisationId, id))
}

export async function deleteFeed(tx: Db, { organisationId, id }: FeedRow): Promise<void> {
  await tx.delete(calendarFeeds).where(thisFeed(organisationId, id))
}

export async function noteFeedRead(tx: Db, { organisationId, id }: FeedRow, at: string): Promise<void> {
  await tx.update(calendarFeeds).set({ lastReadAt: at }).where(thisFeed(organisationId, id))
}

export function entriesOfFeed(tx: Db, { organisationId, id }: FeedRow): Promise<EntryRow[]> {
  return tx
    .select({
      uid: calendarEntries.uid,
      sequence: calendarEntries.sequence,
      state: calendarEntries.state,
      content: calendarEntries.content,
      createdAt: calendarEntries.createdAt,
      changedAt: calendarEntries.changedAt,
    })
    .from(calendarEntries)
    .where(and(eq(calendarEntries.organisationId, organisationId), eq(calendarEntries.feedId, id)))
}

/** Rows in one statement: enough to be quick, few enough for the protocol's count of parameters. */
const ROWS_PER_STATEMENT = 500

export async function saveEntries(
  tx: Db,
  { organisationId, id: feedId }: FeedRow,
  entries: readonly EntryRow[],
): Promise<void> {
  for (let start = 0; start < entries.length; start += ROWS_PER_STATEMENT) {
    const rows = entries.slice(start, start + ROWS_PER_STATEMENT)
    await tx
      .insert(calendarEntries)
      .values(rows.map((row) => ({ ...row, organisationId, feedId })))
      .onConflictDoUpdate({
        target: [calendarEntries.organisationId, calendarEntries.feedId, calendarEntries.uid],
        set: {
          sequence: sql`excluded.sequence`,
          state: sql`excluded.state`,
          content: sql`excluded.content`,
          changedAt: sql`excluded.changed_at`,
        },
      })
  }
}

function ofOwner({ organisationId, email }: FeedOwner) {
  return and(eq(calendarFeeds.organisationId, organisationId), eq(calendarFeeds.email, email))
}

function thisFeed(organisationId: string, id: string) {
  return and(eq(calendarFeeds.organisationId, organisationId), eq(calendarFeeds.id, id))
}
