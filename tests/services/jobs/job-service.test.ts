import { eq, sql } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import type { Db } from '../../../src/db/client.js'
import { inOrganisation } from '../../../src/db/in-organisation.js'
import type { JobKey } from '../../../src/db/repositories/jobs.js'
import { jobs } from '../../../src/db/schema/index.js'
import type { Actor } from '../../../src/services/actor.js'
import { NotFound } from '../../../src/services/errors.js'
import { FollowedJobs } from '../../../src/services/jobs/followed-jobs.js'
import { type JobQueue, JobService } from '../../../src/services/jobs/job-service.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../../database/test-database.js'

/** A queue that keeps what was put into it, for the test to hand out. */
class WaitingQueue implements JobQueue {
  readonly waiting: JobKey[] = []
  /** Handed out to somebody who never heard of it. */
  readonly lost = new Set<string>()

  async enqueue(_tx: Db, _kind: string, job: JobKey): Promise<void> {
    this.waiting.push(job)
    this.lost.delete(job.id)
  }

  async withoutEntry(_kind: string, ids: readonly string[]): Promise<ReadonlySet<string>> {
    return new Set(ids.filter((id) => this.lost.has(id)))
  }
}

let database: TestDatabase
let actor: Actor
let queue: WaitingQueue
let service: JobService

beforeAll(async () => {
  database = await createTestDatabase()
})
afterAll(() => database.close())
beforeEach(async () => {
  actor = await createOrganisation(database.db)
  queue = new WaitingQueue()
  service = new JobService({ db: database.service, across: database.across }, queue)
})

const request = () => inOrganisation(database.service, actor, (tx) => service.request(tx, actor))
const follow = (id: string) => new FollowedJobs(database.db).read(actor, id)

describe('a request for a refit', () => {
  it('is shared by the writes that come before it begins', async () => {
    const first = await request()
    const second = await request()
    expect(second.id).toBe(first.id)
    expect(queue.waiting).toEqual([{ organisationId: actor.organisationId, id: first.id }])
  })

  it('is a new one once the last has begun: that one may not have seen this write', async () => {
    const first = await request()
    let second = first
    await service.run(queue.waiting[0]!, false, async () => {
      second = await request()
    })
    expect(second.id).not.toBe(first.id)
  })

  it('is gone where the write that asked for it is rolled back', async () => {
    const failed = inOrganisation(database.service, actor, async (tx) => {
      await service.request(tx, actor)
      throw new Error('the write failed')
    })
    await expect(failed).rejects.toThrow('the write failed')
    const rows = await database.db.select().from(jobs).where(eq(jobs.organisationId, actor.organisationId))
    expect(rows).toEqual([])
  })
})

describe('a job', () => {
  it('tells how far it is, and that it is over', async () => {
    const { id } = await request()
    const seen: unknown[] = []
    await service.run(queue.waiting[0]!, false, async (onProgress) => {
      await onProgress(0.4, 'fitting the rates')
      const { state, progress, step } = await follow(id)
      seen.push(state, progress, step)
    })
    expect(seen).toEqual(['running', 0.4, 'fitting the rates'])
    expect(await follow(id)).toMatchObject({ state: 'completed', progress: 1, step: null, error: null })
  })

  it('waits for another try when it fails, and tells why when that was the last', async () => {
    const { id } = await request()
    const fail = () => Promise.reject(new Error('no convergence'))
    await expect(service.run(queue.waiting[0]!, false, fail)).rejects.toThrow('no convergence')
    expect(await follow(id)).toMatchObject({ state: 'queued', error: 'no convergence' })
    await expect(service.run(queue.waiting[0]!, true, fail)).rejects.toThrow('no convergence')
    expect(await follow(id)).toMatchObject({ state: 'failed', error: 'no convergence' })
  })

  it('begins again when the database was away or full, even on its last try', async () => {
    const { id } = await request()
    const outages = ['57P03', '53100'].map((code) => Object.assign(new Error(`outage ${code}`), { code }))
    const seen: unknown[] = []
    await service.run(queue.waiting[0]!, true, async () => {
      seen.push((await follow(id)).state)
      const outage = outages.pop()
      if (outage) throw outage
    })
    expect(seen).toEqual(['running', 'running', 'running'])
    expect(await follow(id)).toMatchObject({ state: 'completed', error: null })
  })

  it('is not run again when the queue hands it out twice', async () => {
    await request()
    let runs = 0
    const work = async () => void runs++
    await service.run(queue.waiting[0]!, false, work)
    await service.run(queue.waiting[0]!, false, work)
    expect(runs).toBe(1)
  })

  it('is taken up again when its process fell silent, and only then', async () => {
    const { id } = await request()
    const silent = (seconds: number) =>
      database.db
        .update(jobs)
        .set({ state: 'running', heartbeatAt: sql`now() - make_interval(secs => ${seconds})` })
        .where(eq(jobs.id, id))
    await silent(2)
    expect(await service.reclaimLost()).toBe(0)
    await silent(3600)
    expect(await service.reclaimLost()).toBe(1)
    expect(await follow(id)).toMatchObject({ state: 'queued' })
    expect(queue.waiting.map((job) => job.id)).toEqual([id, id])
    expect(await service.reclaimLost()).toBe(0)
  })

  it('is taken up at once where no other process can be running it', async () => {
    const { id } = await request()
    await database.db.update(jobs).set({ state: 'running', heartbeatAt: sql`now()` }).where(eq(jobs.id, id))
    expect(await service.reclaimLost()).toBe(0)
    expect(await service.reclaimLost(0)).toBe(1)
    expect(await follow(id)).toMatchObject({ state: 'queued' })
  })

  it('is asked for again where the queue handed it out and nobody has begun it', async () => {
    const { id } = await request()
    expect(await service.reclaimLost()).toBe(0)
    const handedOut = queue.waiting.splice(0)
    queue.lost.add(id)
    expect(await service.reclaimLost()).toBe(1)
    expect(queue.waiting).toEqual(handedOut)
    expect(await service.reclaimLost()).toBe(0)
    await service.run(handedOut[0]!, false, async () => {
      // Under way it is no longer what the queue has to have; and whoever is handed it a second time leaves it alone.
      queue.lost.add(id)
      expect(await service.reclaimLost()).toBe(0)
      await service.run(handedOut[0]!, false, () => Promise.reject(new Error('begun twice')))
      expect(await follow(id)).toMatchObject({ state: 'running' })
    })
    expect(await follow(id)).toMatchObject({ state: 'completed' })
  })

  it("is nobody else's to follow", async () => {
    const { id } = await request()
    const foreign = await createOrganisation(database.db)
    await expect(new FollowedJobs(database.db).read(foreign, id)).rejects.toThrow(NotFound)
  })
})
