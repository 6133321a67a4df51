import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { KEY } from '../process/running-process.js'
import { KILLS, surviveKills } from './kill-rounds.js'

const LIMIT_MS = 600_000 + KILLS * 30_000

describe('the service on the embedded database', () => {
  let folder: string
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-kills-'))
  })
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  it(`keeps all that it acknowledged through ${KILLS} kills`, { timeout: LIMIT_MS }, async () => {
    const dataDir = join(folder, 'data')
    await surviveKills({ DATA_DIR: dataDir, ADMIN_API_KEY: KEY })
    expect(existsSync(`${dataDir}.lock`)).toBe(false)
  })
})
