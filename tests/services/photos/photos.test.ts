import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { anodes, auditEntries, boats, haulOuts, photos, positions, weighings } from '../../../src/db/schema/index.js'
import { folderPhotoStore, type PhotoStore } from '../../../src/outside/photo-store.js'
import type { Actor } from '../../../src/services/actor.js'
import { PhotoService } from '../../../src/services/photos/photos.js'
import type { PhotoUpload } from '../../../src/services/photos/uploads.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../../database/test-database.js'
import { jpegOf } from './images.js'

const DAY_MS = 86_400_000

let database: TestDatabase
let actor: Actor
let store: PhotoStore
let service: PhotoService
let now = new Date()
const folder = mkdtempSync(join(tmpdir(), 'photo-service-'))

beforeAll(async () => {
  database = await createTestDatabase()
  actor = await createOrganisation(database.db, 'staff')
  store = folderPhotoStore(folder)
  service = new PhotoService(database.service, store, () => now)
})
afterAll(async () => {
  await database.close()
  rmSync(folder, { recursive: true, force: true })
})

/** A boat hauled out, with one anode weighed that day. */
async function liftedBoat(name: string) {
  const { db } = database
  const { organisationId } = actor
  const [boat] = await db.insert(boats).values({ organisationId, name }).returning()
  const boatId = boat!.id
  const [position] = await db
    .insert(positions)
    .values({ organisationId, boatId, label: 'shaft', kind: 'shaft' })
    .returning()
  const fitted = { alloy: 'zinc' as const, fittedOn: '2024-04-01', grossMassG: 1250, coreMassG: 80 }
  const [anode] = await db
    .insert(anodes)
    .values({ organisationId, boatId, positionId: position!.id, name: 'shaft 1', ...fitted })
    .returning()
  const [lift] = await db.insert(haulOuts).values({ organisationId, boatId, hauledOn: '2025-04-12' }).returning()
  const [weighing] = await db
    .insert(weighings)
    .values({ organisationId, anodeId: anode!.id, haulOutId: lift!.id, weighedOn: '2025-04-12', massG: 900 })
    .returning()
  return {
    name,
    weighing: { kind: 'weighing' as const, id: weighing!.id },
    lift: { kind: 'haul-out' as const, id: lift!.id },
  }
}

async function* sent(...files: Buffer[]): AsyncGenerator<PhotoUpload> {
  for (const file of files) yield { part: 'photo', fileName: 'bow.jpg', content: inPieces(file) }
}

async function* inPieces(file: Buffer): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < file.length; at += 1000) yield file.subarray(at, at + 1000)
}

const filesStored = () => readdirSync(folder, { recursive: true, withFileTypes: true }).filter((one) => one.isFile())

describe('adding photos', () => {
  it('keeps what the picture shows, and who added it', async () => {
    const { weighing, name } = await liftedBoat('Wren')
    const { items, added } = await service.add(actor, weighing, sent(await jpegOf(2000, 1000)))
    expect(added).toBe(true)
    expect(items).toEqual([
      expect.objectContaining({
        boat: name,
        weighingId: weighing.id,
        haulOutId: null,
        anode: 'shaft 1',
        date: '2025-04-12',
        widthPx: 1600,
        heightPx: 800,
        version: 1,
      }),
    ])
    const id = items[0]!.id
    const [entry] = await database.db.select().from(auditEntries).where(eq(auditEntries.rowId, id))
    expect(entry).toMatchObject({ actor: 'test:staff', action: 'insert', tableName: 'photos' })
  })

  it('does not double a photo, whether sent again, twice in one request or twice at once', async () => {
    const { weighing, lift } = await liftedBoat('Dunlin')
    const [one, other] = [await jpegOf(300, 200, 1), await jpegOf(300, 200, 90)]
    const first = await service.add(actor, weighing, sent(one, other, one))
    expect(first.items).toHaveLength(2)
    const again = await service.add(actor, weighing, sent(other, one))
    expect(again.added).toBe(false)
    expect(again.items.map(({ id }) => id)).toEqual([first.items[1]?.id, first.items[0]?.id])

    const both = await Promise.all([service.add(actor, lift, sent(one)), service.add(actor, lift, sent(one))])
    expect(new Set(both.map(({ items }) => items[0]?.id)).size).toBe(1)
    expect(both.map(({ added }) => added).sort()).toEqual([false, true])
    // The weighing's own photo is another row of the same file.
    expect(both[0].items[0]?.id).not.toBe(first.items[0]?.id)
  })

  it('adds all of a request or nothing', async () => {
    const { weighing, name } = await liftedBoat('Turnstone')
    const files = sent(await jpegOf(30, 20, 3), Buffer.from('no picture'), await jpegOf(30, 20, 4))
    await expect(service.add(actor, weighing, files)).rejects.toThrow('photo (bow.jpg) is not a picture')
    await expect(service.add(actor, weighing, sent())).rejects.toThrow('at least one photo')
    const page = await service.pageOfBoat(actor, name, { limit: 50, sort: 'date' })
    expect(page).toEqual({ items: [], nextCursor: null })
  })

  it('writes the file before the row: a store that fails leaves no photo', async () => {
    const { weighing, name } = await liftedBoat('Knot')
    const full = { ...store, put: () => Promise.reject(new Error('no space left')) }
    const failing = new PhotoService(database.service, full, () => now)
    await expect(failing.add(actor, weighing, sent(await jpegOf(30, 20, 5)))).rejects.toThrow('no space left')
    expect((await service.pageOfBoat(actor, name, { limit: 50, sort: 'date' })).items).toEqual([])
  })

  it('takes twenty at once', async () => {
    const { lift, name } = await liftedBoat('Sanderling')
    const files = await Promise.all(Array.from({ length: 20 }, (_, at) => jpegOf(1200, 900, at * 10)))
    await Promise.all(files.map((file) => service.add(actor, lift, sent(file))))
    const shown: string[] = []
    let cursor: string | undefined
    do {
      const page = await service.pageOfBoat(actor, name, { limit: 6, sort: '-createdAt', cursor })
      shown.push(...page.items.map(({ id }) => id))
      cursor = page.nextCursor ?? undefined
    } while (cursor)
    expect(new Set(shown).size).toBe(20)
    expect(shown).toHaveLength(20)
  })
})

describe('whose photos', () => {
  it('are for the own organisation alone', async () => {
    const { weighing, name } = await liftedBoat('Whimbrel')
    const { items } = await service.add(actor, weighing, sent(await jpegOf(30, 20, 6)))
    const stranger = await createOrganisation(database.db, 'administrator', 'Another yard')
    const id = items[0]!.id
    await expect(service.picture(stranger, id, 'full')).rejects.toThrow('the photo was not found')
    await expect(service.remove(stranger, id, '1')).rejects.toThrow('the photo was not found')
    await expect(service.add(stranger, weighing, sent(await jpegOf(30, 20, 6)))).rejects.toThrow('was not found')
    await expect(service.pageOfBoat(stranger, name, { limit: 5, sort: 'date' })).rejects.toThrow('was not found')
  })
})

describe('the sweep', () => {
  it('takes away what no photo shows, after a day, and nothing else', async () => {
    const kept = await liftedBoat('Redshank')
    const gone = await liftedBoat('Godwit')
    const shared = await jpegOf(40, 30, 7)
    await service.add(actor, kept.weighing, sent(shared))
    await service.add(actor, gone.weighing, sent(shared, await jpegOf(40, 30, 80)))
    const { items } = await service.add(actor, kept.lift, sent(await jpegOf(40, 30, 160)))
    await store.put('not-ours/readme.txt', Buffer.from('left by somebody'), 'text/plain')
    await database.db.delete(weighings).where(eq(weighings.id, gone.weighing.id))
    await service.remove(actor, items[0]!.id, '1')

    const before = filesStored().length
    now = new Date()
    expect(await service.sweep()).toBe(0)
    now = new Date(Date.now() + 2 * DAY_MS)
    // The second picture of the weighing that went and the one removed, each with its thumbnail, and earlier refusals.
    expect(await service.sweep()).toBeGreaterThanOrEqual(4)
    expect(await service.sweep()).toBe(0)
    expect(filesStored().length).toBeLessThanOrEqual(before - 4)

    for (const { id } of await database.db.select({ id: photos.id }).from(photos)) {
      expect((await service.picture(actor, id, 'full')).bytes.length).toBeGreaterThan(0)
      expect((await service.picture(actor, id, 'thumb')).bytes.length).toBeGreaterThan(0)
    }
    expect(await store.has('not-ours/readme.txt')).toBe(true)
  })

  it('between the storing of a file and its row costs nobody a photo', async () => {
    const { weighing } = await liftedBoat('Greenshank')
    const file = await jpegOf(40, 30, 200)
    // The sweep comes at the worst moment: after the files are stored, before the transaction.
    const swept: PhotoStore = {
      ...store,
      put: async (key, bytes, mediaType) => {
        await store.put(key, bytes, mediaType)
        now = new Date(Date.now() + 2 * DAY_MS)
        if (key.endsWith('.thumb.webp') && !sweepDone) {
          sweepDone = true
          expect(await service.sweep()).toBeGreaterThanOrEqual(2)
        }
      },
    }
    let sweepDone = false
    const raced = new PhotoService(database.service, swept, () => now)
    const { items } = await raced.add(actor, weighing, sent(file))
    expect(sweepDone).toBe(true)
    expect((await service.picture(actor, items[0]!.id, 'full')).bytes.length).toBeGreaterThan(0)
    expect((await service.picture(actor, items[0]!.id, 'thumb')).bytes.length).toBeGreaterThan(0)
  })
})
