import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { KEY, type RunningProcess, startProcess } from '../process/running-process.js'

const LIMIT_MS = 300_000
const WAIT_LIMIT_MS = 120_000
const BOATS_EACH = 10

const chosen = inject('testDatabase')

describe.skipIf(chosen.kind === 'embedded')('two processes on one PostgreSQL server', () => {
  const name = `two_${randomUUID().replaceAll('-', '')}`
  let server: pg.Client
  let fleet: pg.Client
  let folder: string
  let both: RunningProcess[]

  beforeAll(async () => {
    if (chosen.kind === 'embedded') return
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-two-'))
    server = new pg.Client({ connectionString: chosen.url })
    await server.connect()
    await server.query(`create database ${name}`)
    const url = new URL(chosen.url)
    url.pathname = `/${name}`
    // At the same moment, on a database without a table: both want to migrate it and to make the organisation.
    both = await Promise.all(
      ['one', 'other'].map((process) =>
        startProcess({ DATABASE_URL: url.href, DATA_DIR: join(folder, process), ADMIN_API_KEY: KEY }),
      ),
    )
    fleet = new pg.Client({ connectionString: url.href })
    await fleet.connect()
  }, LIMIT_MS)

  afterAll(async () => {
    for (const process of both ?? []) await process.stop('SIGKILL')
    await fleet?.end()
    await server?.query(`drop database if exists ${name} with (force)`)
    await server?.end()
    rmSync(folder, { recursive: true, force: true })
  })

  it('both come up, and know one organisation', async () => {
    const ids = await Promise.all(
      both.map(async (process) => (await process.send('GET', '/v1/me')).body.organisation.id),
    )
    expect(ids[0]).toMatch(/^[0-9a-f-]{36}$/)
    expect(ids[1]).toBe(ids[0])
    const { rows } = await fleet.query('select count(*)::int as organisations from organisations')
    expect(rows).toEqual([{ organisations: 1 }])
  })

  it('share writes and jobs: none runs twice', { timeout: LIMIT_MS }, async () => {
    const adding = both.flatMap((process, which) =>
      Array.from({ length: BOATS_EACH }, (_, n) => process.send('POST', '/v1/boats', { name: `Boat ${which} ${n}` })),
    )
    for (const { status } of await Promise.all(adding)) expect(status).toBe(201)
    for (const process of both) {
      const { body } = await process.send('GET', '/v1/boats?limit=200')
      expect(body.items).toHaveLength(2 * BOATS_EACH)
    }
    await until(async () => (await count(`public.jobs where state in ('queued', 'running')`)) === 0)
    const { rows: unfinished } = await fleet.query(`select state, error from public.jobs where state <> 'completed'`)
    expect(unfinished).toEqual([])
    // The queue's own record: each of its jobs was handed out once and came to its end.
    await until(async () => (await count(`jobs.job where name = 'refit' and state < 'completed'`)) === 0)
    expect(await count(`jobs.job where name = 'refit' and retry_count > 0`)).toBe(0)
    expect(await count(`jobs.job where name = 'refit'`)).toBe(await count('public.jobs'))
    expect(await count('public.jobs')).toBeGreaterThan(0)
  })

  it('both stop clean, one while the other goes on', { timeout: LIMIT_MS }, async () => {
    const [one, other] = both as [RunningProcess, RunningProcess]
    expect(await one.stop('SIGTERM'), one.output()).toBe(0)
    expect((await other.send('GET', '/health/ready')).status).toBe(200)
    expect((await other.send('POST', '/v1/boats', { name: 'Boat alone' })).status).toBe(201)
    expect(await other.stop('SIGTERM'), other.output()).toBe(0)
  })

  async function count(rows: string): Promise<number> {
    const { rows: answer } = await fleet.query(`select count(*)::int as n from ${rows}`)
    return answer[0].n
  }
})

async function until(isSo: () => Promise<boolean>): Promise<void> {
  const deadline = Date.now() + WAIT_LIMIT_MS
  while (!(await isSo())) {
    if (Date.now() > deadline) throw new Error(`not so after ${WAIT_LIMIT_MS} ms`)
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
}
