import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openDatabase } from '../../src/db/client.js'
import { KEY, startProcess } from '../process/running-process.js'

const LIMIT_MS = 300_000

describe('a data folder', () => {
  let folder: string
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-folder-'))
  })
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  it('belongs to one process at a time, which says so to the second', { timeout: LIMIT_MS }, async () => {
    const dataDir = join(folder, 'data')
    const environment = { DATA_DIR: dataDir, ADMIN_API_KEY: KEY }
    const first = await startProcess(environment)
    const inUse = `the data folder ${dataDir} is in use by process ${first.process.pid}`
    await expect(startProcess(environment)).rejects.toThrow(inUse)
    await expect(openDatabase({ dataDir })).rejects.toThrow(inUse)

    // The first one is none the worse for it, and gives the folder back.
    expect((await first.send('POST', '/v1/boats', { name: 'Boat of the first' })).status).toBe(201)
    expect(await first.stop('SIGTERM')).toBe(0)
    expect(existsSync(`${dataDir}.lock`)).toBe(false)

    const database = await openDatabase({ dataDir })
    await expect(openDatabase({ dataDir })).rejects.toThrow('is already open in this process')
    await database.close()
    expect(existsSync(`${dataDir}.lock`)).toBe(false)
  })
})
