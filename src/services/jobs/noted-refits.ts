import { and, eq, sql } from 'drizzle-orm'
import type { JobView } from '../../contract/jobs.js'
import type { Db } from '../../db/client.js'
import type { Acting } from '../../db/in-organisation.js'
import { jobs } from '../../db/schema/index.js'
import type { RefitRequests } from './refit-requests.js'

/** Notes in the table of jobs that an organisation's forecasts are to be made anew; one that waits already serves all. */
export class NotedRefits implements RefitRequests {
  async request(tx: Db, { organisationId }: Acting): Promise<JobView> {
    const waiting = and(eq(jobs.organisationId, organisationId), eq(jobs.kind, 'refit'), eq(jobs.state, 'queued'))
    const [found] = await tx.select().from(jobs).where(waiting).orderBy(sql`${jobs.createdAt} desc`).limit(1)
    const row = found ?? (await tx.insert(jobs).values({ organisationId, kind: 'refit' }).returning())[0]
    if (!row) throw new Error('the job was not inserted')
    return viewOf(row)
  }
}

function viewOf(row: typeof jobs.$inferSelect): JobView {
  const { id, kind, state, progress, step, error } = row
  return {
    id,
    kind,
    state,
    progress,
    step,
    error,
    createdAt: new Date(row.createdAt).toISOString(),
    startedAt: instant(row.startedAt),
    finishedAt: instant(row.finishedAt),
  }
}

function instant(value: string | null): string | null {
  return value === null ? null : new Date(value).toISOString()
}
