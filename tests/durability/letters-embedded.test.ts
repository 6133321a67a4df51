import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe } from 'vitest'
import { sendThroughKills } from './letter-lives.js'

describe('letters on the embedded database', () => {
  let folder: string
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-letters-'))
  })
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  sendThroughKills(() => ({ dataDir: join(folder, 'data') }))
})
