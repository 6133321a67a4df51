import { and, eq, inArray, lte, sql } from 'drizzle-orm'
import type { PgColumn } from 'drizzle-orm/pg-core'
import type { Db } from '../client.js'
import { jobs, notices, webhookDeliveries } from '../schema/index.js'

/** How much of a kind is in a state, over all organisations. */
export interface StateCount {
  readonly kind: 'job' | 'letter' | 'webhook'
  readonly state: string
  readonly count: number
}

const COUNT = sql<number>`count(*)::int`

/** What is under way, and what was given up. What is done is not counted: it only grows. */
export async function unfinishedCounts(across: Db): Promise<StateCount[]> {
  const jobRows = await across
    .select({ state: jobs.state, count: COUNT })
    .from(jobs)
    .where(inArray(jobs.state, ['queued', 'running', 'failed']))
    .groupBy(jobs.state)
  const letterRows = await across
    .select({ state: notices.state, count: COUNT })
    .from(notices)
    .where(inArray(notices.state, ['waiting', 'failed', 'refused']))
    .groupBy(notices.state)
  const webhookRows = await across
    .select({ state: webhookDeliveries.state, count: COUNT })
    .from(webhookDeliveries)
    .where(inArray(webhookDeliveries.state, ['waiting', 'failed']))
    .groupBy(webhookDeliveries.state)
  return [
    ...jobRows.map((row) => ({ kind: 'job' as const, ...row })),
    ...letterRows.map((row) => ({ kind: 'letter' as const, ...row })),
    ...webhookRows.map((row) => ({ kind: 'webhook' as const, ...row })),
  ]
}

export interface OldestWaiting {
  readonly kind: StateCount['kind']
  readonly seconds: number
}

/** The longest that one of a kind has been due without being taken up; of kinds of which nothing is due, nothing. */
export async function oldestWaiting(across: Db): Promise<OldestWaiting[]> {
  const dueLetters = and(eq(notices.state, 'waiting'), lte(notices.nextAttemptAt, sql`now()`))
  const dueMessages = and(eq(webhookDeliveries.state, 'waiting'), lte(webhookDeliveries.nextAttemptAt, sql`now()`))
  const [job] = await across.select(sinceOf(jobs.createdAt)).from(jobs).where(eq(jobs.state, 'queued'))
  const [letter] = await across.select(sinceOf(notices.nextAttemptAt)).from(notices).where(dueLetters)
  const [message] = await across
    .select(sinceOf(webhookDeliveries.nextAttemptAt))
    .from(webhookDeliveries)
    .where(dueMessages)
  const found = { job, letter, webhook: message }
  return Object.entries(found).flatMap(([kind, row]) =>
    row?.seconds == null ? [] : [{ kind: kind as OldestWaiting['kind'], seconds: row.seconds }],
  )
}

const sinceOf = (instant: PgColumn) => ({
  seconds: sql<number | null>`extract(epoch from now() - min(${instant}))::double precision`,
})
