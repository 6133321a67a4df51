import { existsSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { type Config, readConfig } from '../config.js'
import { forgetAgain } from '../db/backup/forget-again.js'
import { openDatabase } from '../db/client.js'
import { openPhotoStore } from '../outside/photo-store.js'
import { packageVersion } from '../project-root.js'
import { askForBackup } from '../services/backup/backup-door.js'
import { readForgotten } from '../services/backup/read-forgotten.js'
import { checkBackup, restoreBackup } from '../services/backup/restore-backup.js'
import { type BackupSummary, writeBackup } from '../services/backup/write-backup.js'
import type { Terminal } from './import.js'

const USAGE = `npm run backup -- FOLDER
  keeps database and photos in a new folder, whether the service runs or not
npm run restore -- FOLDER
  brings them back into an empty database and photo store, while no service runs
npm run restore -- FOLDER --forgotten FILE
  and removes whoever was removed since: FILE is tables/forgotten_people.ndjson of an organisation's archive
npm run restore -- FOLDER --check
  only holds each file of the backup against its checksum`

type Work = (args: readonly string[], config: Config) => Promise<string>

/** @returns exit code: 0 when it was done, 1 otherwise */
export async function runBackupCommand(
  name: string | undefined,
  args: readonly string[],
  environment: Record<string, string | undefined>,
  { out, err }: Terminal,
): Promise<number> {
  const works: Readonly<Record<string, Work>> = { backup: backUp, restore }
  try {
    const work = works[name ?? '']
    if (!work) throw new Error(USAGE)
    out.write(`${await work(args, readConfig(environment))}\n`)
    return 0
  } catch (error) {
    err.write(`${reasonOf(error)}\n`)
    return 1
  }
}

async function backUp(args: readonly string[], config: Config): Promise<string> {
  const { positionals } = parseArgs({ args: [...args], allowPositionals: true })
  const folder = onlyFolder(positionals)
  return summaryOf((await askedOfService(config, folder)) ?? (await withStores(config, writeBackup, folder)))
}

/** Nobody but the service may open the embedded database while it runs. */
async function askedOfService({ databaseUrl, dataDir }: Config, folder: string): Promise<BackupSummary | undefined> {
  if (databaseUrl !== undefined) return undefined
  if (!existsSync(join(dataDir, 'database'))) throw new Error(`there is no database in ${resolve(dataDir)}`)
  return askForBackup(dataDir, folder)
}

async function restore(args: readonly string[], config: Config): Promise<string> {
  const options = { check: { type: 'boolean', default: false }, forgotten: { type: 'string', multiple: true } } as const
  const { positionals, values } = parseArgs({ args: [...args], allowPositionals: true, options })
  const folder = onlyFolder(positionals)
  if (values.check) {
    const { files, takenAt } = await checkBackup(folder)
    return `all ${files.length} files of the backup of ${takenAt} are whole`
  }
  // Read first: a list that is none is told before anything is brought back.
  const forgotten = (await Promise.all((values.forgotten ?? []).map(readForgotten))).flat()
  const restoreWithout = async (stores: Stores, from: string) => {
    const manifest = await restoreBackup(stores, from)
    return { ...manifest, again: await forgetAgain(stores.database.service, forgotten) }
  }
  const { tables, takenAt, again } = await withStores(config, restoreWithout, folder)
  const rows = tables.reduce((sum, table) => sum + table.rows, 0)
  const restored = `restored what there was at ${takenAt}: ${rows} rows in ${tables.length} tables, and the photos`
  return forgotten.length === 0 ? restored : `${restored}\nremoved again ${again} of ${forgotten.length} people`
}

interface Stores {
  readonly database: Awaited<ReturnType<typeof openDatabase>>
  readonly photoStore: Awaited<ReturnType<typeof openPhotoStore>>
  readonly dataDir: string
  readonly version: string
}

async function withStores<T>(
  config: Config,
  work: (stores: Stores, folder: string) => Promise<T>,
  folder: string,
): Promise<T> {
  const { dataDir, photoStore } = config
  const database = await openDatabase(config)
  try {
    const store = await openPhotoStore(photoStore, join(dataDir, 'photos'))
    return await work({ database, photoStore: store, dataDir, version: packageVersion() }, folder)
  } finally {
    await database.close()
  }
}

function onlyFolder([folder, ...more]: readonly string[]): string {
  if (folder === undefined || more.length > 0) throw new Error(USAGE)
  return resolve(folder)
}

function summaryOf({ folder, takenAt, rows, photos, bytes, missingPhotos }: BackupSummary): string {
  const lines = [`kept in ${folder}: ${rows} rows and ${photos} photos as of ${takenAt}, ${bytes} bytes`]
  if (missingPhotos.length > 0) lines.push(`files of photos that were not there: ${missingPhotos.join(', ')}`)
  return lines.join('\n')
}

/** The database's own reason is in the cause; the query around it helps nobody here. */
function reasonOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error)
  const isQuery = error.message.startsWith('Failed query')
  return isQuery && error.cause instanceof Error ? error.cause.message : error.message
}

// Run as a command, not when a test imports it.
if (process.argv[1] !== undefined && import.meta.filename === process.argv[1]) {
  const [name, ...args] = process.argv.slice(2)
  process.exitCode = await runBackupCommand(name, args, process.env, { out: process.stdout, err: process.stderr })
}
