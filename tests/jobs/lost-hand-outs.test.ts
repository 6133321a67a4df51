import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest'
import { inOrganisation } from '../../src/db/in-organisation.js'
import { readJob } from '../../src/db/repositories/jobs.js'
import { BossQueue } from '../../src/jobs/boss-queue.js'
import type { Actor } from '../../src/services/actor.js'
import { JobService, REFIT } from '../../src/services/jobs/job-service.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../database/test-database.js'

const STOP_MS = 5_000

/** As the queue's own statement does it, where the answer never came to the one who asked: the database died, or the asker. */
const HAND_OUT_UNHEARD = `update jobs.job set state = 'active', started_on = now() - make_interval(secs => $1)
  where data->>'id' = $2 and state < 'active'`

describe('a job that was handed out and never begun', () => {
  let database: TestDatabase
  let queue: BossQueue
  let jobs: JobService
  let actor: Actor
  const errors: Error[] = []
  beforeAll(async () => {
    database = await createTestDatabase()
    queue = await BossQueue.start(database, [REFIT], (error) => errors.push(error))
    jobs = new JobService({ db: database.service, across: database.across }, queue)
  })
  afterAll(async () => {
    await queue.stop(STOP_MS)
    await database.close()
  })
  beforeEach(async () => {
    actor = await createOrganisation(database.db)
  })

  const request = () => inOrganisation(database.service, actor, (tx) => jobs.request(tx, actor))
  const handOutUnheard = (id: string, secondsAgo: number) =>
    database.executor.executeSql(HAND_OUT_UNHEARD, [secondsAgo, id])

  it('is queued anew after 20 s, once, and not before; one that waits is let be', async () => {
    const { id } = await request()
    expect(await jobs.reclaimLost()).toBe(0)
    await handOutUnheard(id, 15)
    expect(await jobs.reclaimLost()).toBe(0)
    await database.executor.executeSql(`update jobs.job set started_on = started_on - interval '10 seconds'`)
    expect(await jobs.reclaimLost()).toBe(1)
    expect(await jobs.reclaimLost()).toBe(0)
    // Where no other process can have it, as on the embedded database at a start, at once.
    await handOutUnheard(id, 0)
    expect(await jobs.reclaimLost(0)).toBe(1)
  })

  it('is done then', { timeout: 60_000 }, async () => {
    const { id } = await request()
    await handOutUnheard(id, 30)
    expect(await jobs.reclaimLost()).toBeGreaterThanOrEqual(1)
    await queue.work(REFIT, (key, lastTry) => jobs.run(key, lastTry, async () => {}))
    const stored = () => readJob(database.db, actor.organisationId, id)
    await vi.waitFor(async () => expect(await stored()).toMatchObject({ state: 'completed' }), 30_000)
    expect(errors).toEqual([])
  })
})
