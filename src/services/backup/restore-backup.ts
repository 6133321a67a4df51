import { existsSync, mkdirSync, readFileSync } from 'node:fs'
import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { loadTables, tableWithRows } from '../../db/backup/load-tables.js'
import { migrateDatabase, migrateUntil } from '../../db/migrate.js'
import { STORED_MEDIA_TYPE } from '../photos/picture.js'
import { checkFile, linesOfFile } from './kept-files.js'
import { type Manifest, PHOTO_FOLDER, readManifest, SECRET_FILE, tableFile } from './manifest.js'
import type { BackedUp } from './write-backup.js'

/** Where a backup is brought back to. */
export type RestoreTarget = Omit<BackedUp, 'version'>

/** Holds each file against what was kept. @throws Error naming the first that is missing or damaged */
export async function checkBackup(folder: string): Promise<Manifest> {
  const manifest = await readManifest(folder)
  for (const file of manifest.files) await checkFile(folder, file)
  return manifest
}

/**
 * Brings a backup back into an empty database and photo store. Nothing is touched before each file was held against its checksum. The database is brought
 * to the schema that the backup was taken on, takes all rows or none, and then goes on to the newest. Broken off, it can be begun again.
 *
 * @throws Error when something is there already, or the backup is damaged or of a newer version
 */
export async function restoreBackup(target: RestoreTarget, folder: string): Promise<Manifest> {
  const manifest = await checkBackup(folder)
  await refuseUnlessEmpty(target, folder, manifest)
  await migrateUntil(target.database, manifest.migratedTo)
  await restorePhotos(target, folder, manifest)
  const tables = manifest.tables.map((table) => ({
    ...table,
    lines: () => linesOfFile(join(folder, tableFile(table.name))),
  }))
  await loadTables(target.database, tables)
  await restoreSecret(target, folder, manifest)
  await migrateDatabase(target.database)
  return manifest
}

async function refuseUnlessEmpty(target: RestoreTarget, folder: string, manifest: Manifest): Promise<void> {
  const full = await tableWithRows(target.database)
  if (full !== undefined) throw new Error(`the database is not empty: there are rows in ${full}`)
  const kept = new Set(photosOf(manifest))
  for await (const key of target.photoStore.keys()) {
    // A restore that was broken off has left some of its own.
    if (!kept.has(key)) throw new Error(`the photo store is not empty: there is ${key}`)
  }
  const secret = join(target.dataDir, SECRET_FILE)
  const isKept = manifest.files.some(({ name }) => name === SECRET_FILE)
  if (isKept && existsSync(secret) && !readFileSync(secret).equals(readFileSync(join(folder, SECRET_FILE)))) {
    throw new Error(`${secret} is there already, and is another secret than that of the backup`)
  }
}

function photosOf(manifest: Manifest): string[] {
  const start = `${PHOTO_FOLDER}/`
  return manifest.files.flatMap(({ name }) => (name.startsWith(start) ? [name.slice(start.length)] : []))
}

async function restorePhotos({ photoStore }: RestoreTarget, folder: string, manifest: Manifest): Promise<void> {
  for (const key of photosOf(manifest)) {
    await photoStore.put(key, await readFile(join(folder, PHOTO_FOLDER, key)), STORED_MEDIA_TYPE)
  }
}

async function restoreSecret({ dataDir }: RestoreTarget, folder: string, manifest: Manifest): Promise<void> {
  if (!manifest.files.some(({ name }) => name === SECRET_FILE)) return
  mkdirSync(dataDir, { recursive: true })
  await writeFile(join(dataDir, SECRET_FILE), await readFile(join(folder, SECRET_FILE)), { mode: 0o600 })
}
