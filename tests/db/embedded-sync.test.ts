import fs from 'node:fs'
import { syncBuiltinESMExports } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Database, openDatabase } from '../../src/db/client.js'

const COMMITS = 50

/** Counts the calls that reach the operating system: what a power cut leaves depends on them alone. */
function countSyncs(): { readonly files: () => number; restore(): void } {
  const original = fs.fsyncSync
  let calls = 0
  fs.fsyncSync = (file) => {
    calls++
    original(file)
  }
  syncBuiltinESMExports()
  return {
    files: () => calls,
    restore: () => {
      fs.fsyncSync = original
      syncBuiltinESMExports()
    },
  }
}

describe('the embedded database on a disk', () => {
  let folder: string
  let database: Database
  const syncs = countSyncs()

  beforeAll(async () => {
    folder = fs.mkdtempSync(join(tmpdir(), 'anode-ledger-sync-'))
    database = await openDatabase({ dataDir: join(folder, 'data') })
    await database.db.execute(sql`create table synced (n int)`)
  })
  afterAll(async () => {
    await database.close()
    syncs.restore()
    fs.rmSync(folder, { recursive: true, force: true })
  })

  it('syncs each commit before it acknowledges it', async () => {
    for (let n = 0; n < COMMITS; n++) {
      const before = syncs.files()
      await database.db.execute(sql`insert into synced values (${n})`)
      expect(syncs.files()).toBeGreaterThan(before)
    }
  })

  it('syncs nothing for what only reads', async () => {
    await database.db.execute(sql`checkpoint`)
    const before = syncs.files()
    for (let n = 0; n < COMMITS; n++) await database.db.execute(sql`select count(*) from synced`)
    expect(syncs.files()).toBe(before)
  })

  it.each([
    ['fsync', 'on'],
    ['synchronous_commit', 'on'],
    ['full_page_writes', 'on'],
    ['wal_sync_method', 'fsync'],
  ])('runs with %s = %s', async (setting, value) => {
    const { rows } = await database.executor.executeSql('select current_setting($1) as value', [setting])
    expect(rows).toEqual([{ value }])
  })
})
