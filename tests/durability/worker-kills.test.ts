import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { createServerDatabase, type ServerDatabase } from '../database/test-database.js'
import { Uniform } from '../engine/simulated-fleet.js'
import { KEY, type RunningProcess, startProcess } from '../process/running-process.js'
import { KILLS } from './kill-rounds.js'
import { addBoats, WRITERS } from './writers.js'

const LONGEST_LIFE_MS = 1_500
/** So little is written that jobs, not fits of thousands of daily weighings, take the time: the more kills, the more slowly. */
const WRITE_EVERY_MS = Math.max(200, KILLS * 15)
/** What docs/operations.md promises of a job whose worker was killed: 20 s of silence, at most 10 s until somebody looks, and a second to begin. */
const BEGUN_WITHIN_MS = 31_000
/** For a busy machine, and the fits themselves: each job that is left may wait for the one that runs. */
const PATIENCE_MS = BEGUN_WITHIN_MS + 60_000 + KILLS * 1_000
const LIMIT_MS = 300_000 + KILLS * 60_000
const START = 2711

describe.skipIf(inject('testDatabase').kind === 'embedded')('while its worker is killed a server', () => {
  let database: ServerDatabase
  let folder: string
  let server: RunningProcess
  let worker: RunningProcess
  const random = new Uniform(START)
  const refits = new Set<string>()
  let writes = 0

  const begin = (kind: 'server' | 'worker') =>
    startProcess({
      DATABASE_URL: database.url,
      DATA_DIR: join(folder, kind),
      PROCESS: kind,
      SESSION_SECRET: 'the one secret of both processes of this test',
      PUBLIC_URL: 'http://anodes.example.org',
      PHOTO_STORE: 's3://photos?endpoint=http://127.0.0.1:1&accessKeyId=none&secretAccessKey=none',
      RATE_LIMIT: '0',
      ...(kind === 'server' && { ADMIN_API_KEY: KEY }),
    })

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-worker-kills-'))
    database = (await createServerDatabase())!
    server = await begin('server')
    await addBoats(server)
  })
  afterAll(async () => {
    await worker?.stop('SIGKILL')
    await server?.stop('SIGKILL')
    await database?.drop()
    rmSync(folder, { recursive: true, force: true })
  })

  async function writeUntil(isDone: () => boolean): Promise<void> {
    for (; !isDone(); await pause(WRITE_EVERY_MS)) {
      const { path, body } = WRITERS[writes % WRITERS.length]!(writes)
      const answer = await server.send('POST', path, body)
      expect(answer.status, JSON.stringify(answer.body)).toBe(201)
      if (answer.body.refit) refits.add(answer.body.refit.id)
      writes++
    }
  }

  it(`has each refit done that was asked for, in ${KILLS} kills`, { timeout: LIMIT_MS }, async () => {
    let isDone = false
    const writing = writeUntil(() => isDone)
    try {
      for (let round = 0; round < KILLS; round++) {
        worker = await begin('worker')
        await pause(random.next() * LONGEST_LIFE_MS)
        await worker.stop('SIGKILL')
      }
    } finally {
      isDone = true
      await writing
    }
    expect(refits.size).toBeGreaterThan(0)
    const state = async (id: string) => (await server.send('GET', `/v1/jobs/${id}`)).body
    const unfinished = new Set<string>()
    for (const id of refits) if ((await state(id)).state !== 'completed') unfinished.add(id)
    const left = unfinished.size
    worker = await begin('worker')
    const startedAt = performance.now()
    while (unfinished.size > 0) {
      for (const id of unfinished) {
        const job = await state(id)
        expect(job.state, JSON.stringify(job)).not.toBe('failed')
        if (job.state === 'completed') unfinished.delete(id)
        else if (performance.now() - startedAt > PATIENCE_MS) throw new Error(`a refit is ${JSON.stringify(job)}`)
      }
      await pause(200)
    }
    console.log(
      `${KILLS} kills of the worker: ${writes} writes, ${refits.size} refits asked for, ${left} unfinished at the last kill and ` +
        `completed ${Math.round(performance.now() - startedAt)} ms after a worker was there again`,
    )
  })
})
