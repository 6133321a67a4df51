import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe } from 'vitest'
import { liveThroughRefits } from './refit-lives.js'

describe('refits on the embedded database', () => {
  let folder: string
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-refits-'))
  })
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  liveThroughRefits(() => ({ dataDir: join(folder, 'data') }))
})
