import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { type ParsedMail, simpleParser } from 'mailparser'
import pg from 'pg'
import S3rver from 's3rver'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { type MailServer, OPEN_TO_ALL, startMailServer } from '../outside/mail-server.js'
import { KEY, type RunningProcess, startProcess } from '../process/running-process.js'
import { jpegOf } from '../services/photos/images.js'
import { largeFleet } from './large-fleet.js'

const LIMIT_MS = 300_000
const WAIT_LIMIT_MS = 120_000
const FLEET_BOATS = 12
const BOATS_EACH = 10
const BUCKET = 'anode-photos'
const TOKEN = 'a token of the tests alone'
/** Longer than a worker that is there takes to begin a job. */
const NOBODY_WORKS_MS = 1_500
/** What a running job must be silent for to count as lost, and more. */
const SILENCE = `interval '1 minute'`

const chosen = inject('testDatabase')

/** The layout of docs/scale.md, small: each process has a folder of its own, as on a host of its own. */
describe.skipIf(chosen.kind === 'embedded')('two servers and three workers on one PostgreSQL and one bucket', () => {
  const name = `many_${randomUUID().replaceAll('-', '')}`
  const folder = mkdtempSync(join(tmpdir(), 'anode-ledger-many-'))
  const taken: ParsedMail[] = []
  const workers = new Map<string, RunningProcess>()
  let administrator: pg.Client
  let eyes: pg.Client
  let bucket: S3rver
  let smtp: MailServer
  let environment: Record<string, string>
  let servers: [RunningProcess, RunningProcess]

  beforeAll(async () => {
    if (chosen.kind === 'embedded') return
    administrator = new pg.Client({ connectionString: chosen.url })
    await administrator.connect()
    await administrator.query(`create database ${name}`)
    bucket = new S3rver({
      port: 0,
      address: '127.0.0.1',
      silent: true,
      directory: join(folder, 's3'),
      configureBuckets: [{ name: BUCKET, configs: [] }],
    })
    const { port } = await bucket.run()
    smtp = await startMailServer(async (letter) => void taken.push(await simpleParser(letter)), OPEN_TO_ALL)
    const url = new URL(chosen.url)
    url.pathname = `/${name}`
    environment = {
      DATABASE_URL: url.href,
      SESSION_SECRET: 'the one secret of all processes of this test',
      PUBLIC_URL: 'http://anodes.example.org',
      PHOTO_STORE: `s3://${BUCKET}?endpoint=http://127.0.0.1:${port}&accessKeyId=S3RVER&secretAccessKey=S3RVER`,
      SMTP_URL: `smtp://${smtp.host}`,
      METRICS_TOKEN: TOKEN,
      SERVICE_CONNECTIONS: '4',
      ACROSS_CONNECTIONS: '2',
      OWN_CONNECTIONS: '2',
    }
    // At the same moment, on a database without a table.
    servers = (await Promise.all(['one', 'other'].map((each) => begin('server', each)))) as typeof servers
    eyes = new pg.Client({ connectionString: url.href })
    await eyes.connect()
  }, LIMIT_MS)

  afterAll(async () => {
    for (const process of [...(servers ?? []), ...workers.values()]) await process.stop('SIGKILL')
    await eyes?.end()
    await administrator?.query(`drop database if exists ${name} with (force)`)
    await administrator?.end()
    await bucket?.close()
    await smtp?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  /** By its name the database says whose a connection is. */
  function begin(kind: 'server' | 'worker', process: string): Promise<RunningProcess> {
    const url = new URL(environment.DATABASE_URL!)
    url.searchParams.set('application_name', process)
    return startProcess({
      ...environment,
      DATABASE_URL: url.href,
      PROCESS: kind,
      DATA_DIR: join(folder, process),
      ...(kind === 'server' && { ADMIN_API_KEY: KEY }),
    })
  }

  async function beginWorkers(...names: string[]): Promise<void> {
    for (const [index, worker] of (await Promise.all(names.map((each) => begin('worker', each)))).entries())
      workers.set(names[index]!, worker)
  }

  async function count(rows: string): Promise<number> {
    const { rows: answer } = await eyes.query(`select count(*)::int as n from ${rows}`)
    return answer[0].n
  }

  const allDone = () => until(async () => (await count(`public.jobs where state <> 'completed'`)) === 0)

  it('servers ask for work and do none', { timeout: LIMIT_MS }, async () => {
    const today = new Date().toISOString().slice(0, 10)
    const imported = await servers[0].send('POST', '/v1/imports', largeFleet(FLEET_BOATS, today))
    expect(imported.status, JSON.stringify(imported.body)).toBe(200)
    await pause(NOBODY_WORKS_MS)
    const job = `/v1/jobs/${imported.body.refit.id}`
    expect((await servers[1].send('GET', job)).body).toMatchObject({ state: 'queued', startedAt: null })
    await beginWorkers('ada', 'bea', 'cay')
    await until(async () => (await servers[1].send('GET', job)).body.state === 'completed')
    for (const { send } of servers) expect((await send('GET', '/v1/forecasts?limit=1')).body.items).toHaveLength(1)
  })

  it('workers tell their health and figures, and answer nothing else', async () => {
    for (const { send } of workers.values()) {
      expect((await send('GET', '/health/live')).status).toBe(200)
      expect((await send('GET', '/health/ready')).status).toBe(200)
      expect(await send('GET', '/metrics', undefined, { authorization: 'Bearer another' })).toMatchObject({
        status: 401,
      })
      expect(await send('GET', '/v1/me')).toMatchObject({ status: 404, body: { instance: '/v1/me' } })
    }
    const answer = await fetch(`${workers.get('ada')!.address}/metrics`, {
      headers: { authorization: `Bearer ${TOKEN}` },
    })
    expect(await answer.text()).toContain('anode_ledger_unfinished')
  })

  it('no write is lost and no job done twice, though both servers take writes at once', {
    timeout: LIMIT_MS,
  }, async () => {
    const before = await count('boats')
    const adding = servers.flatMap(({ send }, which) =>
      Array.from({ length: BOATS_EACH }, (_, n) => send('POST', '/v1/boats', { name: `Added ${which} ${n}` })),
    )
    for (const { status } of await Promise.all(adding)) expect(status).toBe(201)
    // The same boat through both, under one key: made once, and both are told the same.
    const twice = servers.map(({ send }) =>
      send('POST', '/v1/boats', { name: 'Added once' }, { 'idempotency-key': 'the same request' }),
    )
    const statuses = (await Promise.all(twice)).map(({ status }) => status).sort()
    expect([
      [201, 201],
      [201, 409],
    ]).toContainEqual(statuses)
    expect(await count('boats')).toBe(before + 2 * BOATS_EACH + 1)
    await allDone()
    await until(async () => (await count(`jobs.job where name = 'refit' and state < 'completed'`)) === 0)
    expect(await count(`jobs.job where name = 'refit' and retry_count > 0`)).toBe(0)
    expect(await count(`jobs.job where name = 'refit'`)).toBe(await count('public.jobs'))
  })

  it('a photo that came through one server is shown by the other', { timeout: LIMIT_MS }, async () => {
    for (const [index, [takes, shows]] of [servers, servers.toReversed()].entries()) {
      const lift = await takes!.send('POST', `/v1/boats/Added%200%20${index}/haul-outs`, { hauledOn: '2026-01-15' })
      expect(lift.status, JSON.stringify(lift.body)).toBe(201)
      const form = new FormData()
      form.append('photo', new Blob([new Uint8Array(await jpegOf(60, 40, index))]), 'bow.jpg')
      const { status, body } = await takes!.send('POST', `/v1/haul-outs/${lift.body.id}/photos`, form)
      expect(status, JSON.stringify(body)).toBe(201)
      const pictures = await Promise.all(
        [takes, shows].map((server) => pictureAt(`${server!.address}${body.items[0].url}`)),
      )
      expect(pictures[0]!.length).toBeGreaterThan(0)
      expect(pictures[1]!.equals(pictures[0]!)).toBe(true)
    }
  })

  it('each owner has one letter, whichever worker sends it', { timeout: LIMIT_MS }, async () => {
    await allDone()
    const remind = (change: object) => servers[0].send('PATCH', '/v1/reminders', change)
    expect((await remind({ leadDays: 365, quietFrom: 0, quietTo: 0 })).status).toBe(200)
    const preview = await servers[1].send('GET', '/v1/notices/preview?days=1')
    const due = preview.body.items.map(({ to }: { to: string }) => to)
    expect(due.length).toBeGreaterThan(FLEET_BOATS / 2)
    expect((await remind({ enabled: true })).status).toBe(200)
    await until(async () => (await count(`notices where state = 'sent'`)) === due.length)
    expect(taken.map(addressOf).toSorted()).toEqual(due.toSorted())
    expect(taken[0]!.text).toContain('http://anodes.example.org/')
  })

  it('the job of a worker that was killed is done by another', { timeout: LIMIT_MS }, async () => {
    await allDone()
    const { rows: before } = await eyes.query('select now()::text as instant')
    await eyes.query('begin')
    // A refit computes, and waits here with what it would store.
    await eyes.query('lock table model_fits in share row exclusive mode')
    const asked = await servers[0].send('POST', '/v1/boats', { name: 'Added for a lost worker' })
    expect(asked.status).toBe(201)
    const holder = await until(async () => {
      const waiting = `select application_name as worker from pg_stat_activity where datname = $1 and wait_event_type = 'Lock'`
      return (await administrator.query<{ worker: string }>(waiting, [name])).rows[0]?.worker
    })
    await workers.get(holder)!.stop('SIGKILL')
    await eyes.query('rollback')
    // As if the time had passed that makes it lost.
    await administrator.query('select pg_terminate_backend(pid) from pg_stat_activity where application_name = $1', [
      holder,
    ])
    await eyes.query(`update public.jobs set heartbeat_at = heartbeat_at - ${SILENCE} where state = 'running'`)
    workers.delete(holder)
    await allDone()
    expect(await count(`model_fits where fitted_at > '${before[0].instant}'`)).toBeGreaterThan(0)
    expect(await count(`public.jobs where error is not null`)).toBe(0)
  })

  it('a worker that is told to stop hands its job back, and a server answers what it has begun', {
    timeout: LIMIT_MS,
  }, async () => {
    await eyes.query('begin')
    await eyes.query('lock table model_fits in share row exclusive mode')
    expect((await servers[0].send('POST', '/v1/boats', { name: 'Added for a stop' })).status).toBe(201)
    await until(async () => (await count(`public.jobs where state = 'running'`)) === 1)
    const stopping = [...workers].map(async ([worker, process]) => [worker, await process.stop('SIGTERM')])
    await pause(NOBODY_WORKS_MS)
    await eyes.query('rollback')
    for (const [worker, code] of await Promise.all(stopping)) expect(code, String(worker)).toBe(0)
    expect(await count(`public.jobs where state = 'running'`)).toBe(0)
    workers.clear()
    const adding = Array.from({ length: BOATS_EACH }, (_, n) =>
      servers[0].send('POST', '/v1/boats', { name: `Added at the end ${n}` }).then(
        ({ status }) => status === 201,
        () => false,
      ),
    )
    await Promise.race(adding)
    expect(await servers[0].stop('SIGTERM'), servers[0].output()).toBe(0)
    const answered = (await Promise.all(adding)).filter(Boolean).length
    expect(answered).toBeGreaterThan(0)
    expect(await count(`boats where name like 'Added at the end %'`)).toBeGreaterThanOrEqual(answered)
    expect((await servers[1].send('GET', '/health/ready')).status).toBe(200)
    expect(await servers[1].stop('SIGTERM'), servers[1].output()).toBe(0)
  })
})

async function pictureAt(url: string): Promise<Buffer> {
  const answer = await fetch(url, { headers: { authorization: `Bearer ${KEY}` } })
  expect(answer.status).toBe(200)
  return Buffer.from(await answer.arrayBuffer())
}

function addressOf({ to }: ParsedMail): string | undefined {
  return (Array.isArray(to) ? to[0] : to)?.value[0]?.address
}

/** What it gives once that is something. */
async function until<T>(ask: () => Promise<T | undefined>): Promise<T> {
  const deadline = Date.now() + WAIT_LIMIT_MS
  for (;;) {
    const answer = await ask()
    if (answer !== undefined && answer !== false) return answer
    if (Date.now() > deadline) throw new Error(`not so after ${WAIT_LIMIT_MS} ms: ${ask}`)
    await pause(100)
  }
}
