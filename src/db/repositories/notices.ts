import { and, asc, desc, eq, inArray, sql } from 'drizzle-orm'
import type { NoticeItem, NoticeKind, NoticeQuery, NoticeState, Why } from '../../contract/notices.js'
import type { Page } from '../../contract/paging.js'
import type { Stage } from '../../engine/notices/notice-rules.js'
import type { Db } from '../client.js'
import { boats, notices, noticesTold } from '../schema/index.js'
import { type Lease, takeUnderLease } from './leases.js'
import { inEveryRow, instantKey, keysetOf } from './paging.js'

/** Why a letter is written, as it is kept: with the ids that the letter is looked up by when it is sent. */
export interface KeptWhy extends Why {
  readonly boatId: string
  readonly anodeId: string | null
}

/** What people and other systems are told of a reason: without the ids that it is looked up by. */
export function toldWhy(why: readonly KeptWhy[]): Why[] {
  return why.map(({ boatId: _, anodeId: __, ...each }) => each)
}

export interface NoticeKey {
  readonly organisationId: string
  readonly id: string
}

export interface NoticeRow extends NoticeKey {
  readonly kind: NoticeKind
  readonly boatId: string | null
  readonly email: string
  readonly decidedOn: string
  readonly why: readonly KeptWhy[]
  readonly attempts: number
}

/** What an address was told of one anode or finding. */
export interface ToldRow {
  readonly email: string
  readonly subject: string
  readonly isFinding: boolean
  readonly stage: Stage
  readonly turn: number
  readonly toldOn: string
  readonly p10: string | null
  readonly p90: string | null
}

export interface NewNotice {
  readonly kind: NoticeKind
  readonly boatId: string | null
  readonly email: string
  readonly once: string
  readonly decidedOn: string
  readonly why: readonly KeptWhy[]
  readonly nextAttemptAt: string
  readonly told: readonly Omit<ToldRow, 'email' | 'toldOn'>[]
}

/** Holds decisions of an organisation one after the other: two processes that decide at once would both find nothing told. */
export async function queueForDecisions(tx: Db, organisationId: string): Promise<void> {
  await tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`notices ${organisationId}`}, 0))`)
}

/** The last that each address was told of each subject. */
export async function toldBefore(db: Db, organisationId: string): Promise<ToldRow[]> {
  return db
    .selectDistinctOn([noticesTold.email, noticesTold.subject], {
      email: noticesTold.email,
      subject: noticesTold.subject,
      isFinding: noticesTold.isFinding,
      stage: noticesTold.stage,
      turn: noticesTold.turn,
      toldOn: noticesTold.toldOn,
      p10: noticesTold.p10,
      p90: noticesTold.p90,
    })
    .from(noticesTold)
    .where(eq(noticesTold.organisationId, organisationId))
    .orderBy(noticesTold.email, noticesTold.subject, desc(noticesTold.number))
}

/** @returns whether it is new: what an address was sent once is not written again */
export async function insertNotice(tx: Db, organisationId: string, notice: NewNotice): Promise<boolean> {
  const { told, ...values } = notice
  const [row] = await tx
    .insert(notices)
    .values({ ...values, organisationId })
    .onConflictDoNothing({ target: [notices.organisationId, notices.email, notices.once] })
    .returning({ id: notices.id })
  if (row === undefined) return false
  if (told.length > 0) {
    const said = { organisationId, noticeId: row.id, email: notice.email, toldOn: notice.decidedOn }
    await tx.insert(noticesTold).values(told.map((each) => ({ ...each, ...said })))
  }
  return true
}

const ROW = {
  organisationId: notices.organisationId,
  id: notices.id,
  kind: notices.kind,
  boatId: notices.boatId,
  email: notices.email,
  decidedOn: notices.decidedOn,
  why: notices.why,
  attempts: notices.attempts,
}

/** Takes letters that are due, the longest due first. Each goes to one caller alone, until the lease is over. */
export async function claimNotices(db: Db, { now, leaseUntil, most }: Lease): Promise<NoticeRow[]> {
  return db.transaction(async (transaction) => {
    const tx = transaction as unknown as Db
    const due = await tx
      .select(ROW)
      .from(notices)
      .where(and(eq(notices.state, 'waiting'), sql`${notices.nextAttemptAt} <= ${now.toISOString()}::timestamptz`))
      .orderBy(asc(notices.nextAttemptAt), asc(notices.id))
      .limit(most)
      .for('update', { skipLocked: true })
    const taken = await takeUnderLease(tx, notices, due, leaseUntil)
    return taken.map((row) => ({ ...row, why: row.why as readonly KeptWhy[] }))
  })
}

export async function findNotice(db: Db, key: NoticeKey): Promise<{ readonly email: string } | undefined> {
  const [row] = await db.select({ email: notices.email }).from(notices).where(thisNotice(key))
  return row
}

/** What became of a letter; `nextAttemptAt` while it waits for another try. */
export async function settleNotice(
  tx: Db,
  key: NoticeKey,
  settled: {
    readonly state: NoticeState
    readonly nextAttemptAt: string | null
    readonly sentAt?: string
    readonly failure: string | null
  },
): Promise<void> {
  await tx.update(notices).set(settled).where(thisNotice(key))
}

/** Begins the tries anew of a letter that was given up, or refused. */
export async function retryNotice(tx: Db, key: NoticeKey, at: Date): Promise<{ email: string } | undefined> {
  const [row] = await tx
    .update(notices)
    .set({ state: 'waiting', attempts: 0, nextAttemptAt: at.toISOString() })
    .where(and(thisNotice(key), inArray(notices.state, ['failed', 'refused'])))
    .returning({ email: notices.email })
  return row
}

const SORT_KEYS = { createdAt: inEveryRow(instantKey(notices.createdAt)) }

export async function pageOfNotices(db: Db, organisationId: string, query: NoticeQuery): Promise<Page<NoticeItem>> {
  const keyset = keysetOf('notices', query, SORT_KEYS, notices.id)
  const rows = await db
    .select({
      ...ROW,
      boat: boats.name,
      state: notices.state,
      nextAttemptAt: notices.nextAttemptAt,
      sentAt: notices.sentAt,
      failure: notices.failure,
      cursorValue: keyset.cursorValue,
    })
    .from(notices)
    .leftJoin(boats, and(eq(boats.organisationId, notices.organisationId), eq(boats.id, notices.boatId)))
    .where(and(eq(notices.organisationId, organisationId), query.state && eq(notices.state, query.state), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, ({ id, kind, boat, email, decidedOn, why, state, attempts, failure, ...at }) => ({
    id,
    kind,
    boat,
    to: email,
    on: decidedOn,
    why: toldWhy(why as readonly KeptWhy[]),
    state,
    attempts,
    nextAttemptAt: isoOrNull(at.nextAttemptAt),
    sentAt: isoOrNull(at.sentAt),
    failure,
  }))
}

const isoOrNull = (at: string | null) => (at === null ? null : new Date(at).toISOString())

function thisNotice({ organisationId, id }: NoticeKey) {
  return and(eq(notices.organisationId, organisationId), eq(notices.id, id))
}
