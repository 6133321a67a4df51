import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, inject } from 'vitest'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'
import { sendThroughKills } from './letter-lives.js'

describe.skipIf(inject('testDatabase').kind === 'embedded')('letters on a PostgreSQL server', () => {
  let database: TestDatabase
  let folder: string
  beforeAll(async () => {
    database = await createTestDatabase()
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-letters-'))
  })
  afterAll(async () => {
    await database.close()
    rmSync(folder, { recursive: true, force: true })
  })

  sendThroughKills(() => ({ databaseUrl: database.url, dataDir: join(folder, 'data') }))
})
