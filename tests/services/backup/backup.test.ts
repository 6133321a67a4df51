import { appendFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Readable } from 'node:stream'
import { PGlite } from '@electric-sql/pglite'
import { btree_gist } from '@electric-sql/pglite/contrib/btree_gist'
import { pg_trgm } from '@electric-sql/pglite/contrib/pg_trgm'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readSnapshot } from '../../../src/db/backup/read-tables.js'
import { referredFirst } from '../../../src/db/backup/table-shapes.js'
import { type Database, embeddedHandles } from '../../../src/db/client.js'
import { inOrganisation } from '../../../src/db/in-organisation.js'
import { migrateUntil } from '../../../src/db/migrate.js'
import { auditEntries, boats, fittings, jobs } from '../../../src/db/schema/index.js'
import { folderPhotoStore, type PhotoStore } from '../../../src/outside/photo-store.js'
import { readManifest } from '../../../src/services/backup/manifest.js'
import { checkBackup, restoreBackup } from '../../../src/services/backup/restore-backup.js'
import { writeBackup } from '../../../src/services/backup/write-backup.js'
import { JobService } from '../../../src/services/jobs/job-service.js'
import { PhotoService } from '../../../src/services/photos/photos.js'
import type { PhotoUpload } from '../../../src/services/photos/uploads.js'
import { createTestDatabase } from '../../database/test-database.js'
import { askAs } from '../../http/ask.js'
import { startTestServer, type TestServer } from '../../http/server.js'
import { jpegOf } from '../photos/images.js'

const VERSION = '0.0.0-test'
const WRITERS = 4

let folder: string
let server: TestServer
let store: PhotoStore

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'anode-ledger-backup-'))
  store = folderPhotoStore(join(folder, 'photos'))
  server = await startTestServer()
  await fill(server)
})
afterAll(async () => {
  await server.close()
  rmSync(folder, { recursive: true, force: true })
})

/** Rows with values that a careless copy would spoil, and photos. */
async function fill({ database, organisationId, actorOf }: TestServer): Promise<void> {
  const ask = askAs(server, await actorOf('manager'))
  const names = ['Avocet', 'The "Dunlin", née Möwe', 'Ünïcode 船 \u{1F6A4}']
  for (const name of names) expect((await ask('POST', '/v1/boats', { name })).status).toBe(201)
  const anode = { name: 'S1', position: 'shaft', alloy: 'zinc', fittedOn: '2024-04-01', grossMassG: 1250.125 }
  expect((await ask('POST', '/v1/boats/Avocet/anodes', anode)).status).toBe(201)
  const weighed = await ask('POST', '/v1/boats/Avocet/anodes/S1/weighings', {
    weighedOn: '2025-04-18',
    massG: 1000.1 + 0.2,
    conditions: ['even', 'bright'],
  })
  expect(weighed.status).toBe(201)
  await database.db.insert(boats).values({ organisationId, name: 'back\\slash\tand\nline' })
  const photos = new PhotoService(database.service, store, () => new Date())
  const acting = { organisationId, actor: 'test:manager', role: 'manager' } as const
  const added = await photos.add(acting, { kind: 'weighing', id: weighed.body.id }, uploads())
  expect(added.items).toHaveLength(2)
  await database.db.insert(jobs).values([
    { organisationId, kind: 'refit' },
    { organisationId, kind: 'refit', state: 'completed' },
  ])
}

async function* uploads(): AsyncGenerator<PhotoUpload> {
  for (const shade of [10, 200]) {
    const file = await jpegOf(320, 200, shade)
    yield { part: 'photo', fileName: 'bow.jpg', content: Readable.from([file]) }
  }
}

const backUp = (target: string) =>
  writeBackup({ database: server.database, photoStore: store, dataDir: folder, version: VERSION }, target)

let places = 0
const place = (name: string) => join(folder, `${name}-${++places}`)

/** An empty database and photo store. */
async function emptyTarget() {
  const target = await createTestDatabase()
  const dataDir = place('target')
  return { database: target, photoStore: folderPhotoStore(join(dataDir, 'photos')), dataDir }
}

/** Every row of every table, as the database writes it. */
function allRows(database: Database): Promise<Record<string, string[]>> {
  return readSnapshot(database, async (snapshot) => {
    const rows: Record<string, string[]> = {}
    for (const table of snapshot.tables) {
      const lines: string[] = []
      for await (const line of snapshot.linesOf(table)) lines.push(line)
      rows[table.name] = lines.sort()
    }
    return rows
  })
}

async function allPhotos(photos: PhotoStore): Promise<Record<string, string>> {
  const bytes: Record<string, string> = {}
  for await (const key of photos.keys()) bytes[key] = Buffer.from((await photos.get(key)) ?? []).toString('base64')
  return bytes
}

describe('a backup that is restored', () => {
  it('has every row and every photo, to the last digit', async () => {
    const secret = 'a secret that signs nothing outside of this test'
    writeFileSync(join(folder, 'session-secret'), secret)
    const summary = await backUp(place('backup'))
    expect(summary).toMatchObject({ photos: 2, missingPhotos: [] })
    const target = await emptyTarget()
    try {
      await restoreBackup(target, summary.folder)
      const { jobs: unfinishedAndDone, ...rest } = await allRows(target.database)
      const { jobs: jobsBefore, ...before } = await allRows(server.database)
      expect(Object.values(before).flat().length).toBeGreaterThan(20)
      expect(rest).toEqual(before)
      expect(unfinishedAndDone).toHaveLength(jobsBefore!.length)
      expect(await allPhotos(target.photoStore)).toEqual(await allPhotos(store))
      expect(readFileSync(join(target.dataDir, 'session-secret'), 'utf8')).toBe(secret)
    } finally {
      await target.database.close()
    }
  })

  it('lets the trail go on where it was, and takes up what was not finished', async () => {
    const { folder: kept } = await backUp(place('backup'))
    const target = await emptyTarget()
    const { organisationId } = server
    try {
      await restoreBackup(target, kept)
      const newest = async () => {
        const rows = await target.database.db.select({ id: auditEntries.id }).from(auditEntries)
        return Math.max(...rows.map(({ id }) => id))
      }
      const before = await newest()
      await inOrganisation(target.database.service, { organisationId, actor: 'test' }, (tx) =>
        tx.insert(boats).values({ organisationId, name: 'Later' }),
      )
      expect(await newest()).toBe(before + 1)
      const states = await target.database.db.select({ state: jobs.state }).from(jobs)
      expect(states.map(({ state }) => state).sort()).toEqual(['completed', 'running'])
      const enqueued: string[] = []
      const queue = {
        enqueue: async (_tx: unknown, kind: string) => void enqueued.push(kind),
        withoutEntry: async () => new Set<string>(),
      }
      expect(
        await new JobService({ db: target.database.service, across: target.database.across }, queue).reclaimLost(),
      ).toBe(1)
      expect(enqueued).toEqual(['refit'])
    } finally {
      await target.database.close()
    }
  })

  it('is of one moment, though others write meanwhile', async () => {
    const { organisationId } = server
    let stop = false
    let written = 0
    const write = async (writer: number) => {
      for (let n = 0; !stop; n++) {
        const name = `pair ${writer} ${n}`
        await inOrganisation(server.database.service, { organisationId, actor: 'test' }, async (tx) => {
          const [boat] = await tx.insert(boats).values({ organisationId, name }).returning({ id: boats.id })
          await tx.insert(fittings).values({ organisationId, boatId: boat!.id, name, metal: 'manganese-bronze' })
        })
        written++
        // The embedded database answers within the turn: files and timers have theirs too.
        await new Promise((resolve) => setImmediate(resolve))
      }
    }
    const writers = Array.from({ length: WRITERS }, (_, index) => write(index))
    while (written < WRITERS) await new Promise((resolve) => setTimeout(resolve, 5))
    const acknowledged = written
    const { folder: kept } = await backUp(place('backup'))
    stop = true
    await Promise.all(writers)
    const target = await emptyTarget()
    try {
      await restoreBackup(target, kept)
      const pairs = (await target.database.db.select().from(boats)).filter(({ name }) => name.startsWith('pair '))
      const halves = (await target.database.db.select().from(fittings)).filter(({ name }) => name.startsWith('pair '))
      expect(pairs.length).toBeGreaterThanOrEqual(acknowledged)
      expect(halves.map(({ boatId }) => boatId).sort()).toEqual(pairs.map(({ id }) => id).sort())
    } finally {
      await target.database.close()
    }
  })

  it('of an earlier schema is brought to the newest one', async () => {
    const earlier = await emptyEmbedded()
    const later = await emptyEmbedded()
    try {
      await migrateUntil(earlier, BEFORE_PRICES)
      await earlier.db.execute(sql`insert into organisations (name) values ('An early yard')`)
      const dataDir = place('early')
      const photoStore = folderPhotoStore(join(dataDir, 'photos'))
      const source = { database: earlier, photoStore, dataDir, version: VERSION }
      const { folder: kept } = await writeBackup(source, place('backup'))
      await restoreBackup({ database: later, photoStore, dataDir }, kept)
      const rows = await allRows(later)
      expect(rows.organisations).toEqual((await allRows(earlier)).organisations)
      expect(rows).toHaveProperty('price_lists', [])
      expect(await allRows(earlier)).not.toHaveProperty('price_lists')
      // The other way round there is no way back.
      await expect(migrateUntil(earlier, BEFORE_PRICES + 1)).rejects.toThrow('newer version')
    } finally {
      await earlier.close()
      await later.close()
    }
  })
})

describe('a backup is refused', () => {
  it('by a database that has rows, which stay as they are', async () => {
    const { folder: kept } = await backUp(place('backup'))
    const before = await allRows(server.database)
    const target = { database: server.database, photoStore: folderPhotoStore(place('photos')), dataDir: place('data') }
    await expect(restoreBackup(target, kept)).rejects.toThrow('the database is not empty: there are rows in')
    expect(await allRows(server.database)).toEqual(before)
  })

  it('by a photo store that has other photos', async () => {
    const { folder: kept } = await backUp(place('backup'))
    const target = await emptyTarget()
    try {
      await target.photoStore.put('another/photo.webp', Buffer.from('x'), 'image/webp')
      await expect(restoreBackup(target, kept)).rejects.toThrow('the photo store is not empty')
      expect(Object.values(await allRows(target.database)).flat()).toEqual([])
    } finally {
      await target.database.close()
    }
  })

  it('when any of its files is damaged or missing, before anything is written', async () => {
    const { folder: kept } = await backUp(place('backup'))
    const { files } = await readManifest(kept)
    const target = await emptyTarget()
    try {
      const photo = files.find(({ name }) => name.startsWith('photos/'))!.name
      const bytes = readFileSync(join(kept, photo))
      appendFileSync(join(kept, photo), 'x')
      await expect(restoreBackup(target, kept)).rejects.toThrow(`damaged: ${photo}`)
      writeFileSync(join(kept, photo), bytes)
      await checkBackup(kept)
      rmSync(join(kept, 'tables/boats.ndjson.gz'))
      await expect(restoreBackup(target, kept)).rejects.toThrow('not whole: tables/boats.ndjson.gz')
      expect(Object.values(await allRows(target.database)).flat()).toEqual([])
      expect(await allPhotos(target.photoStore)).toEqual({})
    } finally {
      await target.database.close()
    }
  })

  it('when it names files that lie elsewhere', async () => {
    const { folder: kept } = await backUp(place('backup'))
    const manifest = await readManifest(kept)
    const files = [...manifest.files, { name: 'photos/../../outside', bytes: 1, sha256: '0'.repeat(64) }]
    writeFileSync(join(kept, 'manifest.json'), JSON.stringify({ ...manifest, files }))
    await expect(checkBackup(kept)).rejects.toThrow('cannot be read')
  })

  it('by a folder that is there already; and what fails leaves no folder', async () => {
    const there = place('backup')
    mkdirSync(there)
    await expect(backUp(there)).rejects.toThrow('is there already')
    expect(readdirSync(there)).toEqual([])
    const failing = { ...store, get: () => Promise.reject(new Error('the store is away')) }
    const target = join(place('backups'), 'first')
    const source = { database: server.database, photoStore: failing, dataDir: folder, version: VERSION }
    await expect(writeBackup(source, target)).rejects.toThrow('the store is away')
    expect(readdirSync(join(target, '..'))).toEqual([])
  })

  it('never for want of a photo whose file was lost: it says which', async () => {
    const [lost] = Object.keys(await allPhotos(store)).filter((key) => !key.includes('thumb'))
    const bytes = await store.get(lost!)
    await store.delete(lost!)
    try {
      expect((await backUp(place('backup'))).missingPhotos).toEqual([lost])
    } finally {
      await store.put(lost!, bytes!, 'image/webp')
    }
  })
})

describe('the order of tables', () => {
  const shape = (name: string) => ({ name, columns: [] })

  it('has those first that others refer to', () => {
    const order = referredFirst(['a', 'b', 'c'].map(shape), [
      { from: 'a', to: 'b' },
      { from: 'b', to: 'c' },
    ])
    expect(order.map(({ name }) => name)).toEqual(['c', 'b', 'a'])
  })

  it('is not to be had in a ring', () => {
    const ring = [
      { from: 'a', to: 'b' },
      { from: 'b', to: 'a' },
    ]
    expect(() => referredFirst(['a', 'b'].map(shape), ring)).toThrow('in a ring: a, b')
  })
})

/** When migrations/0013 was written, as the migrator's journal has it. */
const BEFORE_PRICES = 1_795_738_151_584

async function emptyEmbedded(): Promise<Database> {
  const lite = await PGlite.create({ extensions: { btree_gist, pg_trgm } })
  return {
    kind: 'embedded',
    ...embeddedHandles(lite),
    withStartLock: (work) => work(),
    close: () => lite.close(),
  }
}
