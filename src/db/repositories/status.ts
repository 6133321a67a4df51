import { and, desc, eq, gte, inArray, or, type SQL, sql } from 'drizzle-orm'
import type { AnyPgColumn } from 'drizzle-orm/pg-core'
import type { Calibration } from '../../engine/scoring/calibration.js'
import type { Db } from '../client.js'
import { jobs, modelFits, notices, organisations, webhookDeliveries } from '../schema/index.js'
import { newestFitFirst } from './forecasts.js'
import { utcInstant } from './references.js'

/** What waits of a kind, what was given up since a moment, and since when the oldest has waited. */
export interface QueueCount {
  readonly waiting: number
  readonly failed: number
  readonly oldestWaitingSince: string | null
}

const counted = (condition: SQL | undefined) => sql<number>`(count(*) filter (where ${condition}))::int`
const oldest = (since: AnyPgColumn, condition: SQL) =>
  sql<string | null>`min(${since}) filter (where ${condition})`.mapWith((at) => (at === null ? null : utcInstant(at)))

/** Jobs of an organisation that are not done, by kind. */
export function jobQueues(
  tx: Db,
  organisationId: string,
  since: string,
): Promise<(QueueCount & { kind: string; working: number })[]> {
  const isWaiting = eq(jobs.state, 'queued')
  return tx
    .select({
      kind: jobs.kind,
      waiting: counted(isWaiting),
      working: counted(eq(jobs.state, 'running')),
      failed: counted(and(eq(jobs.state, 'failed'), gte(jobs.finishedAt, since))),
      oldestWaitingSince: oldest(jobs.createdAt, isWaiting),
    })
    .from(jobs)
    .where(and(eq(jobs.organisationId, organisationId), inArray(jobs.state, ['queued', 'running', 'failed'])))
    .groupBy(jobs.kind)
    .orderBy(jobs.kind)
}

/** Letters of an organisation on their way, and those that a server refused or that were given up. */
export async function letterQueue(tx: Db, organisationId: string, since: string): Promise<QueueCount> {
  const isWaiting = eq(notices.state, 'waiting')
  const isFailed = and(inArray(notices.state, ['failed', 'refused']), gte(notices.createdAt, since))
  const [row] = await tx
    .select({
      waiting: counted(isWaiting),
      failed: counted(isFailed),
      oldestWaitingSince: oldest(notices.createdAt, isWaiting),
    })
    .from(notices)
    .where(and(eq(notices.organisationId, organisationId), or(isWaiting, isFailed)))
  return row!
}

/** Webhook messages of an organisation on their way, and those that were given up. */
export async function webhookQueue(tx: Db, organisationId: string, since: string): Promise<QueueCount> {
  const isWaiting = eq(webhookDeliveries.state, 'waiting')
  const isFailed = and(eq(webhookDeliveries.state, 'failed'), gte(webhookDeliveries.createdAt, since))
  const [row] = await tx
    .select({
      waiting: counted(isWaiting),
      failed: counted(isFailed),
      oldestWaitingSince: oldest(webhookDeliveries.createdAt, isWaiting),
    })
    .from(webhookDeliveries)
    .where(and(eq(webhookDeliveries.organisationId, organisationId), or(isWaiting, isFailed)))
  return row!
}

export interface FitFacts {
  readonly asOf: string
  readonly fittedAt: string
  readonly intervals: number
  readonly anodes: number
  readonly boats: number
  /** Of fits by older versions nothing. */
  readonly calibration: Calibration | null
}

/** The newest fit without its effects, which are as many as boats and berths. */
export async function factsOfNewestFit(tx: Db, organisationId: string): Promise<FitFacts | undefined> {
  const counts = (member: string) => sql<number>`coalesce((${modelFits.summary} ->> ${member})::int, 0)`
  const [row] = await tx
    .select({
      asOf: modelFits.asOf,
      fittedAt: modelFits.fittedAt,
      intervals: modelFits.intervals,
      anodes: counts('anodes'),
      boats: counts('boats'),
      calibration: sql<Calibration | null>`${modelFits.summary} -> 'calibration'`,
    })
    .from(modelFits)
    .where(and(eq(modelFits.organisationId, organisationId), eq(modelFits.hindsight, false)))
    .orderBy(...newestFitFirst)
    .limit(1)
  return row && { ...row, fittedAt: utcInstant(row.fittedAt) }
}

/** How long the last job of a kind that was completed took [s]. */
export async function secondsOfLastJob(tx: Db, organisationId: string, kind: string): Promise<number | null> {
  const [row] = await tx
    .select({ seconds: sql<number>`extract(epoch from ${jobs.finishedAt} - ${jobs.startedAt})::double precision` })
    .from(jobs)
    .where(and(eq(jobs.organisationId, organisationId), eq(jobs.kind, kind), eq(jobs.state, 'completed')))
    .orderBy(desc(jobs.finishedAt))
    .limit(1)
  return row?.seconds ?? null
}

/** What the database is and how large. */
export async function databaseFacts(tx: Db): Promise<{ version: string; bytes: number }> {
  const answer = await tx.execute(
    sql`select current_setting('server_version') as version, pg_database_size(current_database())::double precision as bytes`,
  )
  const [row] = (answer as unknown as { rows: { version: string; bytes: number }[] }).rows
  return row!
}

/** Whether there is but one organisation. */
export async function isOnlyOrganisation(across: Db): Promise<boolean> {
  const rows = await across.select({ id: organisations.id }).from(organisations).limit(2)
  return rows.length === 1
}
