import { existsSync } from 'node:fs'
import { mkdir, open, readFile, rename, rm } from 'node:fs/promises'
import { dirname, join, resolve } from 'node:path'
import { type PictureName, picturesShown, readSnapshot, type Snapshot } from '../../db/backup/read-tables.js'
import type { Database } from '../../db/client.js'
import type { PhotoStore } from '../../outside/photo-store.js'
import { pictureKey } from '../photos/picture-keys.js'
import { compressed, keepFile } from './kept-files.js'
import { noteBackup } from './last-backup.js'
import { type KeptFile, MANIFEST_FILE, type Manifest, PHOTO_FOLDER, SECRET_FILE, tableFile } from './manifest.js'

/** All that a running service keeps. */
export interface BackedUp {
  readonly database: Database
  readonly photoStore: PhotoStore
  /** The folder of the secret that signs sessions and letters' links, where one was made. */
  readonly dataDir: string
  /** Of the service. */
  readonly version: string
}

export interface BackupSummary {
  readonly folder: string
  readonly takenAt: string
  readonly rows: number
  readonly photos: number
  readonly bytes: number
  readonly missingPhotos: readonly string[]
}

/** Photos fetched at a time: an object store answers in its own time. */
const PHOTOS_AT_A_TIME = 8

/**
 * Keeps database and photos in a new folder, while the service runs. Photos that are shown now come first, then all tables as of one moment,
 * then photos that came in between: so each photo of that moment is there, though others are removed meanwhile. The folder has its name only
 * once all is in it and on the disk.
 *
 * @throws Error when the folder is there already
 */
export async function writeBackup(backedUp: BackedUp, target: string): Promise<BackupSummary> {
  const folder = resolve(target)
  if (existsSync(folder)) throw new Error(`${folder} is there already: a backup goes into a new folder`)
  const draft = `${folder}.${process.pid}.part`
  await mkdir(dirname(folder), { recursive: true })
  await mkdir(draft, { mode: 0o700 })
  try {
    const manifest = await fill(backedUp, draft)
    await rename(draft, folder)
    await syncFolder(dirname(folder))
    await noteBackup(backedUp.dataDir, manifest.takenAt)
    return summaryOf(folder, manifest)
  } catch (error) {
    await rm(draft, { recursive: true, force: true })
    throw error
  }
}

async function fill({ database, photoStore, dataDir, version }: BackedUp, folder: string): Promise<Manifest> {
  const photos = new PhotoKeeper(photoStore, folder)
  await photos.keep(await picturesShown(database))
  const { shown, ...kept } = await readSnapshot(database, (snapshot) => keepTables(snapshot, folder))
  await photos.keep(shown)
  const wanted = new Set(shown.flatMap(keysOf))
  const secret = await keepSecret(dataDir, folder)
  const manifest: Manifest = {
    format: 1,
    version,
    takenAt: kept.takenAt,
    migratedTo: kept.migratedTo,
    tables: kept.tables,
    files: [...kept.files, ...secret, ...photos.files()],
    missingPhotos: photos.missing.filter((key) => wanted.has(key)),
  }
  await keepFile(folder, MANIFEST_FILE, [Buffer.from(`${JSON.stringify(manifest, null, 1)}\n`)])
  await syncFolder(folder)
  return manifest
}

async function keepTables(snapshot: Snapshot, folder: string) {
  const files: KeptFile[] = []
  const tables: Manifest['tables'] = []
  for (const table of snapshot.tables) {
    let rows = 0
    const lines = counted(snapshot.linesOf(table), () => rows++)
    files.push(await keepFile(folder, tableFile(table.name), compressed(lines)))
    tables.push({ name: table.name, columns: table.columns.map(({ name }) => name), rows })
  }
  const { takenAt, migratedTo } = snapshot
  return { takenAt, migratedTo, files, tables, shown: await snapshot.pictures() }
}

async function* counted(lines: AsyncIterable<string>, count: () => void): AsyncIterable<string> {
  for await (const line of lines) {
    count()
    yield line
  }
}

const keysOf = ({ organisationId, sha256 }: PictureName) =>
  (['full', 'thumb'] as const).map((size) => pictureKey(organisationId, sha256, size))

/** Fetches each photo once, however often it is asked to keep it. */
class PhotoKeeper {
  readonly #store: PhotoStore
  readonly #folder: string
  readonly #kept = new Map<string, KeptFile>()
  readonly #missing = new Set<string>()

  constructor(store: PhotoStore, folder: string) {
    this.#store = store
    this.#folder = folder
  }

  async keep(pictures: readonly PictureName[]): Promise<void> {
    const keys = pictures.flatMap(keysOf).filter((key) => !this.#kept.has(key))
    for (let at = 0; at < keys.length; at += PHOTOS_AT_A_TIME) {
      await Promise.all(keys.slice(at, at + PHOTOS_AT_A_TIME).map((key) => this.#keepOne(key)))
    }
  }

  files(): KeptFile[] {
    return [...this.#kept.values()]
  }

  get missing(): string[] {
    return [...this.#missing]
  }

  async #keepOne(key: string): Promise<void> {
    const bytes = await this.#store.get(key)
    if (bytes === undefined) {
      this.#missing.add(key)
      return
    }
    this.#missing.delete(key)
    this.#kept.set(key, await keepFile(this.#folder, `${PHOTO_FOLDER}/${key}`, [bytes]))
  }
}

/** Without it people would sign in anew, and links in letters that were sent would end. */
async function keepSecret(dataDir: string, folder: string): Promise<KeptFile[]> {
  const path = join(dataDir, SECRET_FILE)
  return existsSync(path) ? [await keepFile(folder, SECRET_FILE, [await readFile(path)])] : []
}

/** A new name is safe once its folder is. */
async function syncFolder(path: string): Promise<void> {
  const folder = await open(path, 'r')
  try {
    await folder.sync()
  } finally {
    await folder.close()
  }
}

function summaryOf(folder: string, { takenAt, tables, files, missingPhotos }: Manifest): BackupSummary {
  return {
    folder,
    takenAt,
    rows: tables.reduce((sum, { rows }) => sum + rows, 0),
    photos: files.filter(({ name }) => name.startsWith(`${PHOTO_FOLDER}/`) && !name.endsWith('.thumb.webp')).length,
    bytes: files.reduce((sum, { bytes }) => sum + bytes, 0),
    missingPhotos,
  }
}
