import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { findServerBinaries, type LocalServer, startLocalServer } from '../database/local-server.js'
import { Uniform } from '../engine/simulated-fleet.js'
import { KEY, type ProcessAnswer, type RunningProcess, startProcess } from '../process/running-process.js'
import { allPages } from './kill-rounds.js'
import { ANODES, addBoats, attempt, LIFT_BOATS, WRITERS, type Write } from './writers.js'

/** ROUNDS=200 asks for what a release rests on; LONG=1 for what CI does once, and each run of the long tests has a few. */
const ROUNDS = Number(process.env.ROUNDS ?? (process.env.LONG === '1' ? 10 : 3))
const LIMIT_MS = 120_000 + ROUNDS * 30_000
const LONGEST_LOAD_MS = 400
const LONGEST_AWAY_MS = 800
const AWAY_MS = 30_000
const PATIENCE_MS = 120_000
/** Each round adds weighings to fit, and a fit that was under way at the end of the last one comes to its end first. */
const REFIT_PATIENCE_MS = PATIENCE_MS + ROUNDS * 3_000
const RETRY_MS = 50
const READINESS = { timeout: 30_000, interval: 200 }
const START = 4127

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
const binaries = findServerBinaries()

describe.skipIf(binaries === undefined)('while its database is killed the service', () => {
  let postgres: LocalServer
  let service: RunningProcess
  let folder: string
  const random = new Uniform(START)
  const crew = WRITERS.map(() => 0)
  const acknowledged: { write: Write; id: string; refit?: string | undefined }[] = []
  let refused = 0
  let inDoubt = 0

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-database-kills-'))
    postgres = await startLocalServer(binaries ?? '')
    const environment = { DATABASE_URL: postgres.url, DATA_DIR: join(folder, 'data'), RATE_LIMIT: '0' }
    service = await startProcess({ ...environment, ADMIN_API_KEY: KEY })
    await addBoats(service)
  })
  afterAll(async () => {
    await service.stop('SIGKILL')
    await postgres.stop()
    rmSync(folder, { recursive: true, force: true })
  })

  /** Each writer sends one thing after the other, and each until it is answered as done. */
  async function writeUntil(isDone: () => boolean): Promise<void> {
    await Promise.all(
      WRITERS.map(async (writer, index) => {
        while (!isDone()) {
          const write = { ...writer(crew[index]!), key: `writer ${index} write ${crew[index]!++}` }
          const answer = await sendUntilTaken(write)
          if (answer === undefined) inDoubt++
          else acknowledged.push({ write, id: answer.body.id, refit: answer.body.refit?.id })
        }
      }),
    )
  }

  /** @returns undefined where the write was done, but the database was killed before it could say so: then its natural key is taken */
  async function sendUntilTaken(write: Write): Promise<ProcessAnswer | undefined> {
    const deadline = Date.now() + PATIENCE_MS
    for (let refusedBefore = false; ; refusedBefore = true) {
      const answer = await attempt(service, write)
      if (answer?.status === 201) return answer
      if (answer?.status === 409 && refusedBefore) return undefined
      expectClear(answer, write)
      if (Date.now() > deadline) throw new Error(`${write.path} was never taken: ${JSON.stringify(answer)}`)
      await pause(RETRY_MS)
    }
  }

  /** A refusal says in a sentence that the database is away, and when to ask again: no other failure is let pass. */
  function expectClear(answer: ProcessAnswer | undefined, write: Write): void {
    const seen = JSON.stringify({
      path: write.path,
      status: answer?.status,
      body: answer?.body,
      output: service.output(),
    })
    expect(answer?.status, seen).toBe(503)
    expect(answer?.headers.get('content-type')).toContain('application/problem+json')
    expect(answer?.headers.get('retry-after')).not.toBeNull()
    expect(answer?.body.detail).toContain('the database does not answer')
    refused++
  }

  async function expectAllThereOnce(): Promise<void> {
    const [boats, weighings, haulOuts] = await Promise.all(
      ['boats', 'weighings', 'haul-outs'].map(async (rows) => (await allPages(service, `/v1/${rows}`)) as Row[]),
    )
    const ids = [...boats!, ...weighings!, ...haulOuts!].map(({ id }) => id)
    expect(acknowledged.filter(({ id }) => !ids.includes(id))).toEqual([])
    expect(new Set(acknowledged.map(({ id }) => id)).size).toBe(acknowledged.length)
    for (const { boat, hauledOn } of haulOuts!) {
      const own = weighings!.filter((each) => each.boat === boat && each.weighedOn === hauledOn)
      expect(own).toHaveLength(ANODES.length)
    }
    const atLifts = weighings!.filter(({ boat }) => LIFT_BOATS.some((name) => name === boat))
    expect(atLifts).toHaveLength(haulOuts!.length * ANODES.length)
  }

  /** Also those that ran when the database went away. */
  async function expectRefitsComplete(): Promise<number> {
    const asked = new Set(acknowledged.flatMap(({ refit }) => refit ?? []))
    const deadline = Date.now() + REFIT_PATIENCE_MS
    for (const id of asked) {
      for (;;) {
        const { body } = await service.send('GET', `/v1/jobs/${id}`)
        if (body.state === 'completed') break
        if (body.state === 'failed' || Date.now() > deadline)
          throw new Error(`a refit is ${JSON.stringify(body)}: ${service.output()}`)
        await pause(500)
      }
    }
    return asked.size
  }

  it(`loses nothing that it acknowledged in ${ROUNDS} kills`, { timeout: LIMIT_MS }, async () => {
    for (let round = 0; round < ROUNDS; round++) {
      let isBack = false
      const writing = writeUntil(() => isBack)
      await pause(random.next() * LONGEST_LOAD_MS)
      await postgres.kill()
      await pause(random.next() * LONGEST_AWAY_MS)
      await postgres.restart()
      isBack = true
      await writing
      await expectAllThereOnce()
    }
    const refits = await expectRefitsComplete()
    expect(refits).toBeGreaterThan(0)
    console.log(
      `${ROUNDS} kills of the database: ${acknowledged.length} writes acknowledged, none lost; ${refits} refits completed; ${refused} refused, ${inDoubt} done though the database died before it said so`,
    )
  })

  it('says so for 30 s, and recovers alone', { timeout: LIMIT_MS }, async () => {
    await postgres.kill()
    const ready = () => fetch(`${service.address}/health/ready`).then(({ status }) => status)
    const write = { path: '/v1/boats', body: { name: 'Sent while away' }, key: 'sent while away' }
    const until = Date.now() + AWAY_MS
    while (Date.now() < until) {
      expect(await ready()).toBe(503)
      expectClear(await attempt(service, write), write)
      await pause(1000)
    }
    await postgres.restart()
    const answer = await sendUntilTaken(write)
    acknowledged.push({ write, id: answer?.body.id })
    // Readiness is found out anew every 2 s.
    await vi.waitFor(async () => expect(await ready()).toBe(200), READINESS)
    expect(service.process.exitCode).toBeNull()
    await expectAllThereOnce()
  })
})

interface Row {
  readonly id: string
  readonly boat: string
  readonly hauledOn: string
  readonly weighedOn: string
}
