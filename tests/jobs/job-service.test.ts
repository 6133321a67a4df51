import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import type { Db } from '../../src/db/client.js'
import { inOrganisation } from '../../src/db/in-organisation.js'
import type { JobKey } from '../../src/db/repositories/jobs.js'
import { readJob } from '../../src/db/repositories/jobs.js'
import type { Actor } from '../../src/services/actor.js'
import { type JobQueue, JobService } from '../../src/services/jobs/job-service.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../database/test-database.js'

/** The outside of the service: remembers what was enqueued, hands nothing out. */
class RememberedQueue implements JobQueue {
  readonly enqueued: string[] = []

  async enqueue(_tx: Db, _kind: string, job: JobKey): Promise<void> {
    this.enqueued.push(job.id)
  }

  async withoutEntry(): Promise<ReadonlySet<string>> {
    return new Set()
  }
}

const fails = () => Promise.reject(new Error('no fit today'))

describe('JobService', () => {
  let database: TestDatabase
  let actor: Actor
  let queue: RememberedQueue
  let jobs: JobService
  beforeAll(async () => {
    database = await createTestDatabase()
  })
  afterAll(() => database.close())
  beforeEach(async () => {
    actor = await createOrganisation(database.db)
    queue = new RememberedQueue()
    jobs = new JobService({ db: database.service, across: database.across }, queue)
  })

  const request = () => inOrganisation(database.service, actor, (tx) => jobs.request(tx, actor))
  const keyOf = ({ id }: { id: string }): JobKey => ({ organisationId: actor.organisationId, id })
  const stored = ({ id }: { id: string }) => readJob(database.db, actor.organisationId, id)
  const hear = (seconds: number, { id }: { id: string }) =>
    database.db.execute(
      sql`update jobs set state = 'running', heartbeat_at = now() - make_interval(secs => ${seconds}) where id = ${id}`,
    )

  it('lets requests share the job that waits, and makes a new one once that has begun', async () => {
    const first = await request()
    expect((await request()).id).toBe(first.id)
    await jobs.run(keyOf(first), false, async () => {
      expect((await request()).id).not.toBe(first.id)
    })
    expect(queue.enqueued).toHaveLength(2)
  })

  it('leaves no job behind for a write that was rolled back', async () => {
    const rolledBack = inOrganisation(database.service, actor, async (tx) => {
      await jobs.request(tx, actor)
      throw new Error('rolled back')
    })
    await expect(rolledBack).rejects.toThrow('rolled back')
    const { rows } = await database.executor.executeSql('select 1 from jobs where organisation_id = $1', [
      actor.organisationId,
    ])
    expect(rows).toEqual([])
  })

  it('shows how far a job is, and its end', async () => {
    const job = await request()
    await jobs.run(keyOf(job), false, async (onProgress) => {
      await onProgress(0.4, 'fitting the rates')
      expect(await stored(job)).toMatchObject({ state: 'running', progress: 0.4, step: 'fitting the rates' })
    })
    const done = await stored(job)
    expect(done).toMatchObject({ state: 'completed', progress: 1, error: null })
    expect(Date.parse(done!.finishedAt!)).toBeGreaterThanOrEqual(Date.parse(done!.startedAt!))
  })

  it('waits for the next try after a failure, and gives up after the last', async () => {
    const job = await request()
    await expect(jobs.run(keyOf(job), false, fails)).rejects.toThrow('no fit today')
    expect(await stored(job)).toMatchObject({ state: 'queued', error: 'no fit today' })
    await expect(jobs.run(keyOf(job), true, fails)).rejects.toThrow('no fit today')
    expect(await stored(job)).toMatchObject({ state: 'failed', error: 'no fit today' })
  })

  it('does not run what is over, though the queue hands it out again', async () => {
    const job = await request()
    await jobs.run(keyOf(job), false, async () => {})
    await jobs.run(keyOf(job), false, fails)
    expect(await stored(job)).toMatchObject({ state: 'completed' })
  })

  it('hands back what its own stop broke off, as a new entry in the queue and even on the last try', async () => {
    const job = await request()
    await jobs.run(keyOf(job), true, () => {
      jobs.beginStop()
      return fails()
    })
    expect(await stored(job)).toMatchObject({ state: 'queued' })
    expect(queue.enqueued).toEqual([job.id, job.id])
  })

  it('takes back a job whose process fell silent, and none that was heard of lately', async () => {
    const job = await request()
    await hear(5, job)
    expect(await jobs.reclaimLost()).toBe(0)
    await hear(60, job)
    // Two processes look at the same moment: one of them gets it.
    expect((await Promise.all([jobs.reclaimLost(), jobs.reclaimLost()])).sort()).toEqual([0, 1])
    expect(await stored(job)).toMatchObject({ state: 'queued', step: 'its process was lost, queued again' })
    expect(queue.enqueued).toEqual([job.id, job.id])
  })
})
