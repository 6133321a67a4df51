import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { importFolder } from '../../src/commands/import.js'
import { barOf, ProgressBar } from '../../src/commands/progress-bar.js'
import { openDatabase } from '../../src/db/client.js'
import { claimFolder } from '../../src/db/embedded/claim-folder.js'
import { boats, jobs, organisations } from '../../src/db/schema/index.js'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'
import { type Files, SMALL_FLEET } from '../services/imports/files.js'

const ADMIN_API_KEY = 'a key of the tests alone'

let database: TestDatabase
let folder: string
/** A database of its own for the command: the test's server, or an embedded one in a folder. */
let environment: Record<string, string | undefined>

beforeAll(async () => {
  database = await createTestDatabase()
  folder = mkdtempSync(join(tmpdir(), 'anode-ledger-import-'))
  environment = { DATABASE_URL: database.url, DATA_DIR: join(folder, 'data') }
})
afterAll(async () => {
  await database.close()
  rmSync(folder, { recursive: true, force: true })
})

async function run(files: Files, more: readonly string[] = [], extra: Record<string, string> = {}) {
  const source = mkdtempSync(join(folder, 'files-'))
  for (const [name, content] of Object.entries(files)) writeFileSync(join(source, name), content)
  return command([source, ...more], extra)
}

async function command(args: readonly string[], extra: Record<string, string> = {}) {
  let out = ''
  let err = ''
  const terminal = {
    out: { write: (text: string) => (out += text) },
    err: { write: (text: string) => (err += text) },
  }
  const code = await importFolder(args, { ...environment, ...extra }, terminal)
  return { code, out, err }
}

/** What the command left, seen over a connection of its own. */
async function stored() {
  const opened = await openDatabase({ databaseUrl: environment.DATABASE_URL, dataDir: environment.DATA_DIR ?? '' })
  try {
    return {
      boats: (await opened.db.select().from(boats)).map(({ name }) => name).sort(),
      jobs: await opened.db.select().from(jobs),
      organisations: (await opened.db.select().from(organisations)).map(({ name }) => name),
    }
  } finally {
    await opened.close()
  }
}

/** Making an embedded database syncs thousands of files to the disk. */
const SLOW_DISK_MS = 120_000

describe('npm run import -- FOLDER', { timeout: SLOW_DISK_MS }, () => {
  it('needs somebody to administer the first organisation', async () => {
    const { code, err } = await run(SMALL_FLEET)
    expect([code, err]).toEqual([1, expect.stringContaining('set ADMIN_API_KEY')])
  })

  it('makes the organisation in an empty database, loads the fleet, leaves the refit to the service', async () => {
    const { code, out } = await run({ ...SMALL_FLEET, 'notes.txt': 'not ours' }, [], { ADMIN_API_KEY })
    expect([code, out]).toEqual([
      0,
      expect.stringContaining('weighings.csv  4 rows: 4 created, 0 updated, 0 unchanged'),
    ])
    const left = await stored()
    expect(left.boats).toEqual(['Avocet', 'Stint', 'The "Dunlin"'])
    expect(left.jobs).toMatchObject([{ kind: 'refit', state: 'queued' }])
    expect(out).toContain(left.jobs[0]?.id)
  })

  it('finds the one organisation again, and on a dry run writes nothing', async () => {
    const { code, out } = await run({ 'boats.csv': 'boat\nKnot\n' }, ['--dry-run'])
    expect([code, out]).toEqual([0, expect.stringContaining('dry run')])
    expect((await stored()).boats).not.toContain('Knot')
  })

  it('prints each bad cell by file, line and column, and ends with 1', async () => {
    const { code, out, err } = await run({ 'boats.csv': 'boat,hull\nKnot,tin\n' })
    expect([code, out]).toEqual([1, ''])
    expect(err).toContain('boats.csv:2 hull: "tin" is not one of grp, wood')
    expect(err).toContain('nothing was imported')
  })

  it('says what is wrong with its arguments, its folder, its organisation', async () => {
    expect(await command([])).toMatchObject({ code: 1, err: expect.stringContaining('FOLDER') })
    expect(await command(['--colour', folder])).toMatchObject({ code: 1, err: expect.stringContaining('--colour') })
    expect(await run({})).toMatchObject({ code: 1, err: expect.stringContaining('holds none of') })
    expect(await command([join(folder, 'nowhere')])).toMatchObject({ code: 1, err: expect.stringContaining('ENOENT') })
    expect(await run(SMALL_FLEET, ['--organisation', 'Elsewhere'])).toMatchObject({
      code: 1,
      err: expect.stringContaining('say with --organisation'),
    })
    expect(await run(SMALL_FLEET, ['--confirm', 'all'])).toMatchObject({
      code: 1,
      err: expect.stringContaining('--confirm'),
    })
  })

  it('keeps off an embedded database that is in use', async () => {
    const dataDir = join(folder, 'held')
    const release = claimFolder(dataDir)
    const { code, err } = await run(SMALL_FLEET, [], { DATABASE_URL: '', DATA_DIR: dataDir })
    release()
    expect([code, err]).toEqual([1, expect.stringContaining('already open in this process')])
  })
})

describe('the progress bar', () => {
  it('fills with the share of the rows', () => {
    expect(barOf({ step: 'writing', done: 500, rows: 1000 })).toBe(
      `writing [${'#'.repeat(15)}${'·'.repeat(15)}]  50 % 500/1000 rows`,
    )
    expect(barOf({ step: 'writing', done: 0, rows: 0 })).toContain('100 %')
    expect(barOf({ step: 'reading', file: 'boats.csv', done: 7 })).toBe('reading boats.csv (7 rows so far)')
  })

  it('is drawn on a terminal alone, and cleared in the end', () => {
    const drawn = (isTTY: boolean) => {
      let text = ''
      const bar = new ProgressBar({ isTTY, write: (more) => (text += more) })
      bar.show({ step: 'writing', done: 5, rows: 5 })
      bar.clear()
      return text
    }
    expect(drawn(false)).toBe('')
    expect(drawn(true)).toContain('100 %')
    expect(drawn(true).endsWith('\r\u001b[K')).toBe(true)
  })
})
