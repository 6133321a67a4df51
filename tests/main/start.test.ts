import { mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'
import { KEY, type RunningProcess, startProcess } from '../process/running-process.js'

const as = (key: string) => ({ authorization: `Bearer ${key}`, 'content-type': 'application/json' })
const addBoat = (service: RunningProcess, name: string) =>
  fetch(`${service.address}/v1/boats`, { method: 'POST', headers: as(KEY), body: JSON.stringify({ name }) })

/** One life of the service on a database: made, stopped while it answers, started again. */
async function live(environment: Record<string, string>) {
  const first = await startProcess({ ...environment, ADMIN_API_KEY: KEY, ORGANISATION_NAME: 'North Quay' })
  expect((await fetch(`${first.address}/health/ready`)).status).toBe(200)
  const me = await fetch(`${first.address}/v1/me`, { headers: as(KEY) })
  expect(await me.json()).toMatchObject({ role: 'administrator', organisation: { name: 'North Quay' } })

  // Stopped while requests are under way: each one that was taken on is answered, and what was answered is there.
  const names = Array.from({ length: 20 }, (_, index) => `Boat ${index}`)
  const pending = names.map((name) =>
    addBoat(first, name).then(
      ({ status }) => status === 201 && name,
      () => false,
    ),
  )
  await Promise.race(pending)
  expect(await first.stop('SIGTERM')).toBe(0)
  const stored = (await Promise.all(pending)).filter((name) => name !== false)
  expect(stored.length).toBeGreaterThan(0)

  const second = await startProcess({ ...environment, ADMIN_API_KEY: 'another-key-not-known-here' })
  await expect.poll(second.output).toContain('ADMIN_API_KEY is not a key of the organisation that is there')
  const answer = await fetch(`${second.address}/v1/boats?limit=200`, { headers: as(KEY) })
  const { items } = (await answer.json()) as { items: { name: string }[] }
  expect(items.map((boat) => boat.name)).toEqual(expect.arrayContaining(stored))
  expect((await fetch(`${second.address}/v1/me`, { headers: as('another-key-not-known-here') })).status).toBe(401)
  expect(await second.stop('SIGINT')).toBe(0)
}

describe('the process', () => {
  let database: TestDatabase
  let folder: string
  beforeAll(async () => {
    database = await createTestDatabase()
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-start-'))
  })
  afterAll(async () => {
    await database.close()
    rmSync(folder, { recursive: true, force: true })
  })

  it('lives on the embedded database', { timeout: 180_000 }, async () => {
    const dataDir = join(folder, 'embedded')
    await live({ DATA_DIR: dataDir })
    const OWNER_ONLY = 0o600
    expect(statSync(join(dataDir, 'session-secret')).mode & 0o777).toBe(OWNER_ONLY)
  })

  it('lives on a PostgreSQL server', { timeout: 180_000 }, async (context) => {
    if (database.url === undefined) return context.skip('the tests run on the embedded database')
    await live({ DATABASE_URL: database.url, DATA_DIR: join(folder, 'server') })
  })

  it('prints a link to set it up where there is neither key nor organisation', { timeout: 120_000 }, async () => {
    const service = await startProcess({ DATA_DIR: join(folder, 'empty'), LOG_LEVEL: 'silent' })
    await expect.poll(service.output).toMatch(/it works once: http:\/\/127\.0\.0\.1:\d+\/set-up\?token=[\w-]{43}\n/)
    expect(await service.stop('SIGTERM')).toBe(0)
  })

  it('says what is wrong with its environment', { timeout: 60_000 }, async () => {
    await expect(startProcess({ SESSION_SECRET: 'short' })).rejects.toThrow(
      'SESSION_SECRET must have at least 32 characters',
    )
  })
})
