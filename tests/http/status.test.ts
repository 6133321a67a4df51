import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { StatusView } from '../../src/contract/status.js'
import { jobs, notices, organisations } from '../../src/db/schema/index.js'
import { lastBackupAt, noteBackup } from '../../src/services/backup/last-backup.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../src/services/model/refit.js'
import { type Credentials, startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

const NOW = new Date('2026-06-15T12:00:00Z')
let server: TestServer
let administrator: Credentials

beforeAll(async () => {
  server = await startTestServer({ now: () => NOW })
  administrator = await server.actorOf('administrator')
})
afterAll(() => server.close())

async function status(): Promise<StatusView> {
  const answer = await server.app.inject({ url: '/v1/status', headers: administrator })
  expect(answer.statusCode, answer.body).toBe(200)
  return StatusView.parse(answer.json())
}

const days = (count: number) => new Date(NOW.getTime() + count * 24 * 3_600_000).toISOString()

describe('the status', () => {
  it('says of a new organisation that there is nothing yet', async () => {
    const { installation, ...rest } = await status()
    expect(rest).toEqual({
      jobs: [{ kind: 'refit', waiting: 0, working: 0, failed: 0, oldestWaitingSince: null }],
      letters: { waiting: 0, failed: 0, oldestWaitingSince: null },
      webhooks: { waiting: 0, failed: 0, oldestWaitingSince: null },
      lastFit: null,
      coverage: null,
    })
    expect(installation).toMatchObject({
      node: process.versions.node,
      startedAt: NOW.toISOString(),
      photoStore: 'folder',
      mailServer: true,
      away: [],
      lastBackupAt: null,
    })
    expect(installation.database.kind).toBe(server.database.kind)
    expect(installation.database.version).toMatch(/^\d+\.\d+/)
    expect(installation.database.bytes).toBeGreaterThan(1_000_000)
  })

  it('counts the own organisation’s work alone, failures of the last week, and since when the oldest waits', async () => {
    const { db } = server.database
    const { organisationId } = server
    const [other] = await db.insert(organisations).values({ name: 'South Quay' }).returning()
    const ofUs = { organisationId, kind: 'refit' }
    await db.insert(jobs).values([
      { ...ofUs, state: 'queued', createdAt: '2026-06-15T11:58:00Z' },
      { ...ofUs, state: 'queued', createdAt: '2026-06-15T11:59:00Z' },
      { ...ofUs, state: 'running' },
      { ...ofUs, state: 'failed', finishedAt: days(-6) },
      { ...ofUs, state: 'failed', finishedAt: days(-8) },
      { organisationId: other!.id, kind: 'refit', state: 'queued', createdAt: '2026-06-01T00:00:00Z' },
    ])
    const letter = { kind: 'digest' as const, boatId: null, decidedOn: '2026-06-14', why: [], createdAt: days(-1) }
    await db.insert(notices).values([
      { organisationId, ...letter, email: 'a@example.org', once: 'a', state: 'failed' },
      { organisationId, ...letter, email: 'b@example.org', once: 'b', state: 'refused' },
      { organisationId, ...letter, email: 'c@example.org', once: 'c', nextAttemptAt: days(0) },
      { organisationId, ...letter, email: 'd@example.org', once: 'd', state: 'failed', createdAt: days(-9) },
      { organisationId: other!.id, ...letter, email: 'e@example.org', once: 'e', state: 'failed' },
    ])
    const { jobs: queues, letters, installation } = await status()
    const refits = { kind: 'refit', waiting: 2, working: 1, failed: 1, oldestWaitingSince: '2026-06-15T11:58:00.000Z' }
    expect(queues).toEqual([refits])
    expect(letters).toEqual({ waiting: 1, failed: 2, oldestWaitingSince: days(-1) })
    // With a second organisation the size of the database is not one organisation's to know.
    expect(installation.database.bytes).toBeNull()
    await db.delete(jobs)
    await db.delete(notices)
  })

  it('tells of the last fit and how forecasts did', async () => {
    await importFleet(server, fleetFiles(server.ownerEmail))
    const refit = new RefitService(server.database.service, new FittedFleets(), () => NOW)
    await refit.refit(server.organisationId, async () => {})
    const done = { startedAt: '2026-06-15T11:59:50Z', finishedAt: '2026-06-15T11:59:57.5Z' }
    await server.database.db
      .insert(jobs)
      .values({ organisationId: server.organisationId, kind: 'refit', state: 'completed', ...done })
    const { lastFit, coverage } = await status()
    expect(lastFit).toMatchObject({ asOf: '2026-06-15', fittedAt: NOW.toISOString(), seconds: 7.5, boats: 12 })
    expect(lastFit?.intervals).toBeGreaterThan(0)
    const model = (await server.app.inject({ url: '/v1/model', headers: administrator })).json()
    const main = model.calibration.coverage.find(({ level }: { level: number }) => level === 0.8)
    expect(coverage).toEqual({ ...main, scored: model.calibration.scored, weighings: model.calibration.weighings })
    expect(coverage?.share).toBeGreaterThan(0)
  })
})

describe('the note of the newest backup', () => {
  it('is read where it was written, and is nothing elsewhere', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'noted-'))
    expect(await lastBackupAt(folder)).toBeNull()
    await noteBackup(folder, '2031-04-18T03:30:00Z')
    expect(await lastBackupAt(folder)).toBe('2031-04-18T03:30:00.000Z')
    await noteBackup(join(folder, 'not there'), '2031-04-18T03:30:00Z')
  })
})
