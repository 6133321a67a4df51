import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, inject, it } from 'vitest'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'
import { KEY } from '../process/running-process.js'
import { KILLS, surviveKills } from './kill-rounds.js'

const LIMIT_MS = 600_000 + KILLS * 30_000

describe.skipIf(inject('testDatabase').kind === 'embedded')('the service on a PostgreSQL server', () => {
  let database: TestDatabase
  let folder: string
  beforeAll(async () => {
    database = await createTestDatabase()
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-kills-'))
  })
  afterAll(async () => {
    await database.close()
    rmSync(folder, { recursive: true, force: true })
  })

  it(`keeps all that it acknowledged through ${KILLS} kills`, { timeout: LIMIT_MS }, async () => {
    await surviveKills({ DATABASE_URL: database.url ?? '', DATA_DIR: join(folder, 'data'), ADMIN_API_KEY: KEY })
  })
})
