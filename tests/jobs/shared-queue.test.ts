import { setTimeout as pause } from 'node:timers/promises'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Database, type Db, openDatabase } from '../../src/db/client.js'
import { BossQueue } from '../../src/jobs/boss-queue.js'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'

const KIND = 'counted'
const JOBS = 12
const STOP_MS = 5_000
const ORGANISATION = '00000000-0000-4000-8000-000000000001'
const idOf = (n: number) => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`

describe('the queue', () => {
  let database: TestDatabase
  const errors: Error[] = []
  beforeAll(async () => {
    database = await createTestDatabase()
  })
  afterAll(() => database.close())

  it('hands each job to one worker alone, however many share the database', { timeout: 180_000 }, async () => {
    const url = database.url
    // The embedded database has one process, and so one queue.
    const others: Database[] =
      url === undefined ? [] : await Promise.all([1, 2].map(() => openDatabase({ databaseUrl: url, dataDir: '' })))
    const queues = await Promise.all(
      [database, ...others].map((handle) => BossQueue.start(handle, [KIND], (error) => errors.push(error))),
    )
    const begun: string[] = []
    for (const queue of queues) {
      await queue.work(KIND, async ({ id }) => {
        begun.push(id)
        await pause(20)
      })
    }
    await database.db.transaction(async (tx) => {
      for (let n = 0; n < JOBS; n++) {
        await queues[0]!.enqueue(tx as unknown as Db, KIND, { organisationId: ORGANISATION, id: idOf(n) })
      }
    })
    while (new Set(begun).size < JOBS) await pause(50)
    // Time for whoever would take one a second time.
    await pause(1_500)
    expect(begun.toSorted()).toEqual(Array.from({ length: JOBS }, (_, n) => idOf(n)))
    await Promise.all(queues.map((queue) => queue.stop(STOP_MS)))
    for (const other of others) await other.close()
    expect(errors).toEqual([])
  })
})
