import { sql } from 'drizzle-orm'
import { expect, it } from 'vitest'
import { type DatabaseConfig, openDatabase } from '../../src/db/client.js'
import { KEY, type RunningProcess, startProcess } from '../process/running-process.js'
import { largeFleet } from './large-fleet.js'

const WEIGHINGS_A_BOAT = 15
/** Enough for a fit that can be caught in the middle. */
const SOME_BOATS = 60
/** The fleet that the product is made for: 2,250 weighings. */
const BOATS = 150
const LIMIT_MS = 600_000
const POLL_MS = 20
const WAIT_LIMIT_MS = 300_000
/** What an orchestrator commonly waits before it kills; the service's own limits are below it. */
const STOP_LIMIT_MS = 10_000
/** On an idle machine requests take a few milliseconds; a fit on the thread that serves would hold them up for its whole length. */
const P99_LIMIT_MS = 500

/**
 * One fleet through several lives of the service: stopped while its import runs, killed and stopped while its rates are
 * fitted, and asked all the time.
 *
 * @param surroundings called once the tests run: where the database is
 */
export function liveThroughRefits(surroundings: () => DatabaseConfig): void {
  const today = new Date().toISOString().slice(0, 10)
  const start = () => {
    const { databaseUrl, dataDir } = surroundings()
    return startProcess({ DATA_DIR: dataDir, ADMIN_API_KEY: KEY, ...(databaseUrl && { DATABASE_URL: databaseUrl }) })
  }
  let refit = ''

  it('finishes an import that was running when it was told to stop', { timeout: LIMIT_MS }, async () => {
    const service = await start()
    const importing = service.send('POST', '/v1/imports', largeFleet(SOME_BOATS, today))
    await untilTakenOn(service, importing)
    await expectCleanStop(service, importing)
    const { status, body } = await importing
    expect(status, JSON.stringify(body)).toBe(200)
    expect(body.files['boats.csv'].created).toBe(SOME_BOATS)
    expect(body.files['weighings.csv'].created).toBe(SOME_BOATS * WEIGHINGS_A_BOAT)
    refit = body.refit.id
  })

  it('takes up a refit again that was running when it was killed', { timeout: LIMIT_MS }, async () => {
    const killed = await start()
    if ((await stateOf(killed, refit)) === 'completed') refit = await askForRefit(killed, 'Boat for a second refit')
    await until(async () => (await stateOf(killed, refit)) === 'running')
    await killed.stop('SIGKILL')
    await growOld(surroundings(), refit)
    const service = await start()
    await untilCompleted(service, refit)
    const { body } = await service.send('GET', '/v1/forecasts?limit=200')
    expect(body.items.length).toBeGreaterThan(SOME_BOATS)
    expect(await service.stop('SIGTERM')).toBe(0)
  })

  it('loses no refit when it is told to stop in the middle of one', { timeout: LIMIT_MS }, async () => {
    const first = await start()
    const job = await askForRefit(first, 'Boat for a third refit')
    await until(async () => (await stateOf(first, job)) === 'running')
    await expectCleanStop(first, Promise.resolve())
    const second = await start()
    await untilCompleted(second, job)
    expect(await second.stop('SIGTERM')).toBe(0)
  })

  it('answers while a refit runs', { timeout: LIMIT_MS }, async () => {
    const service = await start()
    const imported = await service.send('POST', '/v1/imports', largeFleet(BOATS, today))
    expect(imported.body.files['boats.csv'].created).toBe(BOATS - SOME_BOATS)
    const job: string = imported.body.refit.id
    await until(async () => (await stateOf(service, job)) === 'running')
    const startedAt = performance.now()
    const times: number[] = []
    while ((await stateOf(service, job)) === 'running') {
      for (const path of ['/health/live', '/v1/boats', '/health/live', '/v1/boats']) {
        const sentAt = performance.now()
        const { status } = await service.send('GET', path)
        times.push(performance.now() - sentAt)
        expect(status).toBe(200)
      }
    }
    const refitMs = performance.now() - startedAt
    await untilCompleted(service, job)
    const sorted = times.toSorted((one, other) => one - other)
    const quantile = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!
    console.log(
      `${times.length} requests while ${BOATS} boats were fitted in ${Math.round(refitMs)} ms: ` +
        `median ${quantile(0.5).toFixed(1)}, p99 ${quantile(0.99).toFixed(1)}, longest ${quantile(1).toFixed(1)} ms`,
    )
    expect(times.length).toBeGreaterThan(10)
    expect(quantile(0.99)).toBeLessThan(P99_LIMIT_MS)
    expect(await service.stop('SIGTERM')).toBe(0)
  })
}

/** Told to stop, it ends by itself, in time, without an error; the time begins when the last answer is there. */
async function expectCleanStop(service: RunningProcess, lastAnswer: Promise<unknown>): Promise<void> {
  const ended = service.stop('SIGTERM')
  await lastAnswer
  const answeredAt = performance.now()
  expect(await ended, service.output()).toBe(0)
  const took = performance.now() - answeredAt
  console.log(`ended ${Math.round(took)} ms after the last answer`)
  expect(took).toBeLessThan(STOP_LIMIT_MS)
}

/** Requests are taken in order: once later ones are answered, the one sent before them has long been taken on. */
async function untilTakenOn(service: RunningProcess, request: Promise<unknown>): Promise<void> {
  const answers = [1, 2, 3].map(() => service.send('GET', '/health/live'))
  const all = Promise.all(answers).then(() => 'under way')
  expect(await Promise.race([all, request.then(() => 'over already')])).toBe('under way')
}

/** A write that touches the forecasts asks for a refit. */
async function askForRefit(service: RunningProcess, name: string): Promise<string> {
  expect((await service.send('POST', '/v1/boats', { name })).status).toBe(201)
  const lift = { hauledOn: new Date().toISOString().slice(0, 10) }
  const { status, body } = await service.send('POST', `/v1/boats/${encodeURIComponent(name)}/haul-outs`, lift)
  expect(status).toBe(201)
  return body.refit.id
}

async function stateOf(service: RunningProcess, job: string): Promise<string> {
  const { status, body } = await service.send('GET', `/v1/jobs/${job}`)
  expect(status).toBe(200)
  expect(body.state, body.error).not.toBe('failed')
  return body.state
}

const untilCompleted = (service: RunningProcess, job: string) =>
  until(async () => (await stateOf(service, job)) === 'completed')

async function until(isSo: () => Promise<boolean>): Promise<void> {
  const deadline = Date.now() + WAIT_LIMIT_MS
  while (!(await isSo())) {
    if (Date.now() > deadline) throw new Error(`not so after ${WAIT_LIMIT_MS} ms`)
    await new Promise((resolve) => setTimeout(resolve, POLL_MS))
  }
}

/** Sets back the last sign of life of a job whose process is gone, as if the time that makes it lost had passed. */
async function growOld(config: DatabaseConfig, job: string): Promise<void> {
  const database = await openDatabase(config)
  try {
    await database.db.execute(
      sql`update jobs set heartbeat_at = now() - interval '1 hour' where id = ${job} and state = 'running'`,
    )
  } finally {
    await database.close()
  }
}
