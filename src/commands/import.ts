import { createReadStream } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { type Config, readConfig } from '../config.js'
import { CSV_FILE_NAMES, csvFileNamed } from '../contract/csv/index.js'
import { type ImportAnswer, ImportQuery } from '../contract/imports.js'
import { type Database, openDatabase } from '../db/client.js'
import { migrateDatabase } from '../db/migrate.js'
import { BossQueue } from '../jobs/boss-queue.js'
import { utcDay } from '../services/dates/not-in-future.js'
import { ImportRejected } from '../services/imports/cell-errors.js'
import { ImportService, type ImportSource } from '../services/imports/import-service.js'
import { JobService, REFIT } from '../services/jobs/job-service.js'
import { chooseOrganisation } from './choose-organisation.js'
import { ProgressBar, type Screen } from './progress-bar.js'

const USAGE = `npm run import -- FOLDER [--dry-run] [--organisation NAME] [--confirm CODE,CODE]

Loads the CSV files of a folder (${CSV_FILE_NAMES.join(', ')})
into the database of DATABASE_URL, or the embedded one under DATA_DIR while no service runs on it.`

/** Where the command writes: to people, and what went wrong. */
export interface Terminal {
  readonly out: Screen
  readonly err: Screen
}

interface Wanted {
  readonly folder: string
  readonly organisation: string | undefined
  readonly query: ImportQuery
}

/**
 * `npm run import -- FOLDER`: the same import as `POST /v1/imports`, from files on this machine.
 *
 * @returns exit code: 0 when all was taken (or, on a dry run, could be), 1 otherwise
 */
export async function importFolder(
  args: readonly string[],
  environment: Record<string, string | undefined>,
  { out, err }: Terminal,
): Promise<number> {
  const bar = new ProgressBar(err)
  try {
    const wanted = readArguments(args)
    const answer = await load(wanted, readConfig(environment), bar)
    bar.clear()
    out.write(summaryOf(answer))
    return 0
  } catch (error) {
    bar.clear()
    err.write(`${reasonsOf(error)}\n`)
    return 1
  }
}

/** What the command's arguments cannot mean. */
class Misused extends Error {}

function readArguments(args: readonly string[]): Wanted {
  const { positionals, values } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      'dry-run': { type: 'boolean', default: false },
      organisation: { type: 'string' },
      confirm: { type: 'string' },
    },
  })
  const [folder, ...more] = positionals
  if (folder === undefined || more.length > 0) throw new Misused(USAGE)
  const query = ImportQuery.safeParse({ dryRun: String(values['dry-run']), confirm: values.confirm })
  if (!query.success) throw new Misused(query.error.issues.map(({ message }) => `--confirm: ${message}`).join('\n'))
  return { folder, organisation: values.organisation, query: query.data }
}

async function load({ folder, organisation, query }: Wanted, config: Config, bar: ProgressBar): Promise<ImportAnswer> {
  const sources = await filesOf(folder)
  const database = await openDatabase(config)
  try {
    await migrateDatabase(database)
    const organisationId = await chooseOrganisation(
      { db: database.service, across: database.across },
      config,
      organisation,
    )
    const actor = { organisationId, actor: 'command:import', role: 'administrator' } as const
    return await withQueue(database, (queue) => {
      const { service: db, across } = database
      const jobs = new JobService({ db, across }, queue)
      const imports = new ImportService(db, jobs, () => utcDay(new Date()))
      return imports.run(actor, sources, { ...query, onProgress: (progress) => bar.show(progress) })
    })
  } finally {
    await database.close()
  }
}

const QUEUE_STOP_MS = 2000

/** The queue that a service works off: here jobs are only put into it. */
async function withQueue<T>(database: Database, work: (queue: BossQueue) => Promise<T>): Promise<T> {
  const queue = await BossQueue.start(database, [REFIT], () => {})
  try {
    return await work(queue)
  } finally {
    await queue.stop(QUEUE_STOP_MS)
  }
}

/** The folder's files that go by one of the names; what else lies there is none of our business. */
async function filesOf(folder: string): Promise<AsyncGenerator<ImportSource>> {
  const names = (await readdir(folder)).filter((name) => csvFileNamed(name) !== undefined).sort()
  if (names.length === 0) throw new Misused(`${folder} holds none of ${CSV_FILE_NAMES.join(', ')}`)
  return (async function* () {
    for (const name of names) yield { name, content: createReadStream(join(folder, name)) }
  })()
}

function summaryOf({ files, questions, refit, dryRun }: ImportAnswer): string {
  const lines = Object.entries(files).map(([name, { rows, created, updated, unchanged }]) => {
    return `${name.padEnd(14)} ${rows} rows: ${created} created, ${updated} updated, ${unchanged} unchanged`
  })
  for (const { file, line, column, detail } of questions)
    lines.push(`let in, but look: ${file}:${line} ${column}: ${detail}`)
  if (dryRun) lines.push('dry run: all of it could be imported, nothing was written')
  if (refit)
    lines.push(`the service makes the forecasts anew: at once where it runs, else at its next start (job ${refit.id})`)
  return `${lines.join('\n')}\n`
}

function reasonsOf(error: unknown): string {
  if (!(error instanceof ImportRejected)) return error instanceof Error ? withCause(error) : String(error)
  const cells = error.errors.map(({ file, line, column, detail }) => {
    return `${file}${line === null ? '' : `:${line}`}${column === null ? '' : ` ${column}`}: ${detail}`
  })
  const untold = error.errorCount - error.errors.length
  if (untold > 0) cells.push(`and ${untold} more`)
  return [...cells, error.message].join('\n')
}

/** The database's own reason is in the cause; the query around it helps nobody here. */
function withCause(error: Error): string {
  return error.cause instanceof Error ? error.cause.message : error.message
}

// Run as a command, not when a test imports it.
if (process.argv[1] !== undefined && import.meta.filename === process.argv[1]) {
  process.exitCode = await importFolder(process.argv.slice(2), process.env, {
    out: process.stdout,
    err: process.stderr,
  })
}
