import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, inject, it } from 'vitest'
import { createServerDatabase } from '../database/test-database.js'
import { backUpUnderLoad } from './backup-lives.js'

const LIMIT_MS = 300_000

describe('a backup while the service is written to', () => {
  let folder: string
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-backup-lives-'))
  })
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  it('is whole on the embedded database', { timeout: LIMIT_MS }, async () => {
    await backUpUnderLoad({
      source: { DATA_DIR: join(folder, 'one') },
      target: { DATA_DIR: join(folder, 'other') },
    })
  })

  it.skipIf(inject('testDatabase').kind === 'embedded')('is whole on a server', { timeout: LIMIT_MS }, async () => {
    const [one, other] = [await createServerDatabase(), await createServerDatabase()]
    try {
      await backUpUnderLoad({
        source: { DATA_DIR: join(folder, 'of one'), DATABASE_URL: one?.url ?? '' },
        target: { DATA_DIR: join(folder, 'of other'), DATABASE_URL: other?.url ?? '' },
      })
    } finally {
      await one?.drop()
      await other?.drop()
    }
  })
})
