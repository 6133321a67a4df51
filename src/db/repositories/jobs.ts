import { and, eq, gt, lt, or, sql } from 'drizzle-orm'
import type { JobView } from '../../contract/jobs.js'
import type { Db } from '../client.js'
import { jobs } from '../schema/index.js'
import { utcInstant } from './references.js'

type JobRow = typeof jobs.$inferSelect

/** A job as the queue needs it. */
export interface JobKey {
  readonly organisationId: string
  readonly id: string
}

/** A job of any kind. */
export interface JobOfKind extends JobKey {
  readonly kind: string
}

export async function readJob(db: Db, organisationId: string, id: string): Promise<JobView | undefined> {
  const [row] = await db
    .select()
    .from(jobs)
    .where(and(eq(jobs.organisationId, organisationId), eq(jobs.id, id)))
  return row && toView(row)
}

/**
 * A job of a kind that has not begun, held back from beginning until the transaction ends: whoever shares it may be sure that
 * it will see what the transaction wrote.
 */
export async function holdQueuedJob(tx: Db, organisationId: string, kind: string): Promise<JobView | undefined> {
  const [row] = await tx
    .select()
    .from(jobs)
    .where(and(eq(jobs.organisationId, organisationId), eq(jobs.kind, kind), eq(jobs.state, 'queued')))
    .limit(1)
    .for('key share', { skipLocked: true })
  return row && toView(row)
}

export async function insertJob(tx: Db, organisationId: string, kind: string): Promise<JobView> {
  const [row] = await tx.insert(jobs).values({ organisationId, kind }).returning()
  return toView(row!)
}

/**
 * Marks a job as begun. False where it is over already, or its organisation is gone, or it runs: there is nothing to do.
 *
 * @param isOurs whether the caller had begun it before: then that it runs says nothing
 */
export async function beginJob(db: Db, { organisationId, id }: JobKey, isOurs: boolean): Promise<boolean> {
  // Locked first: a transaction that shares the queued job must be over before the work reads the data.
  return db.transaction(async (tx) => {
    const [row] = await tx.select({ state: jobs.state }).from(jobs).where(only(organisationId, id)).for('update')
    if (row === undefined || row.state === 'completed' || row.state === 'failed') return false
    if (row.state === 'running' && !isOurs) return false
    await tx
      .update(jobs)
      .set({ state: 'running', startedAt: sql`now()`, heartbeatAt: sql`now()`, progress: 0, step: null, error: null })
      .where(only(organisationId, id))
    return true
  })
}

export async function noteProgress(
  db: Db,
  { organisationId, id }: JobKey,
  progress: number,
  step: string,
): Promise<void> {
  await db.update(jobs).set({ progress, step, heartbeatAt: sql`now()` }).where(only(organisationId, id))
}

export async function noteHeartbeat(db: Db, { organisationId, id }: JobKey): Promise<void> {
  await db.update(jobs).set({ heartbeatAt: sql`now()` }).where(only(organisationId, id))
}

/** Ends a job: completed without an error, failed with one. */
export async function endJob(db: Db, { organisationId, id }: JobKey, error: string | null): Promise<void> {
  await db
    .update(jobs)
    .set({
      state: error === null ? 'completed' : 'failed',
      error,
      finishedAt: sql`now()`,
      ...(error === null ? { progress: 1, step: null } : {}),
    })
    .where(only(organisationId, id))
}

/** Puts a job that failed for now back in the queue. */
export async function requeueJob(db: Db, { organisationId, id }: JobKey, error: string): Promise<void> {
  await db.update(jobs).set({ state: 'queued', error, heartbeatAt: null }).where(only(organisationId, id))
}

/**
 * Takes back the running jobs whose process has not been heard of for so many seconds; each is taken by one caller alone. A sign of life from
 * the future is one from before the clock was put back: whoever lives has given another since.
 */
export async function reclaimLostJobs(tx: Db, silentSeconds: number): Promise<JobOfKind[]> {
  const span = sql`make_interval(secs => ${silentSeconds})`
  const silent = or(lt(jobs.heartbeatAt, sql`now() - ${span}`), gt(jobs.heartbeatAt, sql`now() + ${span}`))
  return tx
    .update(jobs)
    .set({ state: 'queued', heartbeatAt: null, step: 'its process was lost, queued again' })
    .where(and(eq(jobs.state, 'running'), silent))
    .returning({ organisationId: jobs.organisationId, id: jobs.id, kind: jobs.kind })
}

/** Jobs that have not begun. */
export async function queuedJobs(db: Db): Promise<JobOfKind[]> {
  return db
    .select({ organisationId: jobs.organisationId, id: jobs.id, kind: jobs.kind })
    .from(jobs)
    .where(eq(jobs.state, 'queued'))
}

/** @returns whether the job has not begun, still; it is held back from beginning until the transaction ends */
export async function isStillQueued(tx: Db, { organisationId, id }: JobKey): Promise<boolean> {
  const rows = await tx
    .select({ id: jobs.id })
    .from(jobs)
    .where(and(only(organisationId, id), eq(jobs.state, 'queued')))
    .for('update', { skipLocked: true })
  return rows.length > 0
}

const only = (organisationId: string, id: string) => and(eq(jobs.organisationId, organisationId), eq(jobs.id, id))

function toView(row: JobRow): JobView {
  return {
    id: row.id,
    kind: row.kind,
    state: row.state,
    progress: row.progress,
    step: row.step,
    error: row.error,
    createdAt: utcInstant(row.createdAt),
    startedAt: row.startedAt === null ? null : utcInstant(row.startedAt),
    finishedAt: row.finishedAt === null ? null : utcInstant(row.finishedAt),
  }
}
