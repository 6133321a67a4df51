import { createServer } from 'node:net'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { FastifyBaseLogger, FastifyInstance } from 'fastify'
import { Registry } from 'prom-client'
import { type Config, readConfig } from './config.js'
import { type Database, openDatabase } from './db/client.js'
import { migrateDatabase, newestSchema } from './db/migrate.js'
import { type Asking, type Background, startAsking, startBackground } from './jobs/background.js'
import { Delivering } from './jobs/delivering.js'
import { printedMail, smtpMail } from './outside/mail.js'
import { openPhotoStore, type PhotoStore } from './outside/photo-store.js'
import { AddressRules } from './outside/web/address-rules.js'
import { SendOut } from './outside/web/send-out.js'
import { packageVersion } from './project-root.js'
import { keptSessionSecret } from './services/access/session-secret.js'
import { type BackupDoor, openBackupDoor } from './services/backup/backup-door.js'
import { lastBackupAt } from './services/backup/last-backup.js'
import { writeBackup } from './services/backup/write-backup.js'
import { buildServices, type Services } from './services/build-services.js'
import { sideOf } from './sides.js'
import type { Telemetry } from './telemetry/otlp.js'
import { processFigures } from './telemetry/process-figures.js'
import { type SlowStatement, StatementWatch } from './telemetry/statement-watch.js'

export interface StartOptions {
  readonly environment?: Record<string, string | undefined>
  /** Whether the demo's own doors are there. */
  readonly demo?: boolean
  /** Takes a line for people: the address, a link. */
  readonly print?: (line: string) => void
}

export interface RunningService {
  readonly address: string
  readonly app: FastifyInstance
  readonly services: Services
  readonly database: Database
  /** Finishes what is being answered, then closes the database. */
  stop(): Promise<void>
}

/** Requests that take longer are cut off when the service stops. */
const STOP_LIMIT_MS = 10_000
const IDLE_CHECK_MS = 100
const GIVE_UP_MS = 2 * STOP_LIMIT_MS
const now = () => new Date()

/**
 * Starts the service in this process: database, migrations, services, HTTP. By PROCESS it answers requests, does the work beside them
 * (jobs, letters, webhooks, chores of the night), or both.
 */
export async function start(options: StartOptions = {}): Promise<RunningService> {
  const { environment = process.env, demo = false, print = console.log } = options
  const config = readConfig(environment)
  const port = config.port === 0 ? await freePort(config.host) : config.port
  const listensAt = `http://${isEverywhere(config.host) ? 'localhost' : config.host}:${port}`
  const publicUrl = config.publicUrl ?? listensAt
  const { registry, telemetry } = await beginTelemetry(config, environment, print)
  let log: FastifyBaseLogger | undefined
  const onSlow = ({ requestId: reqId, ...statement }: SlowStatement) =>
    log?.warn({ reqId, ...statement }, 'slow statement')
  const watch = new StatementWatch({ slowMs: config.slowQueryMs, onSlow })
  const database = await openDatabase(config, watch)
  let beside: Asking | undefined
  try {
    await migrateDatabase(database)
    const onError = (error: Error) => print(`a job went wrong: ${error.message}`)
    const background = config.process === 'server' ? undefined : await startBackground({ database, now, onError })
    beside = background ?? (await startAsking({ database, onError }))
    const { refits, engine } = beside
    const photoStore = await openPhotoStore(config.photoStore, join(config.dataDir, 'photos'))
    const services = servicesOf(config, { database, photoStore, refits, engine, publicUrl, print })
    if (background) assignChores(background, services)
    const { app, lines } = await sideOf(config, { database, services, listensAt, publicUrl, registry, demo })
    log = app.log
    await app.listen({ host: config.host, port })
    for (const line of lines) print(line)
    const sending = background && startSending(services, print)
    const door = backupDoor(config, database, photoStore, print)
    const stopAll = async () => {
      await Promise.all([sending?.stop(), door?.close()])
      await stop(app, beside, async () => {
        // What was counted last is counted by the database.
        await telemetry?.stop()
        await database.close()
      })
    }
    return { address: publicUrl, app, services, database, stop: stopAll }
  } catch (error) {
    await beside?.stop()
    await database.close()
    await telemetry?.stop()
    throw error
  }
}

function assignChores(background: Background, services: Services): void {
  background.everyNight(() => services.photos.sweep())
  background.everyNight(() => services.webhookDeliverer.forgetOld())
  background.everyHour(() => services.idempotency.forgetOld())
  background.everyHour(() => services.noticeDecider.decideAll())
}

/** Letters and webhook messages go out as they fall due. */
function startSending(services: Services, print: (line: string) => void): { stop(): Promise<unknown> } {
  const delivering = new Delivering(services.webhookDeliverer, (error) => print(`webhooks wait: ${error.message}`))
  const mailing = new Delivering(services.noticeSender, (error) => print(`letters wait: ${error.message}`))
  return { stop: () => Promise.all([delivering.stop(), mailing.stop()]) }
}

/** Loaded where somebody receives it, and nowhere else. */
async function beginTelemetry(
  { otlpEndpoint }: Config,
  environment: NonNullable<StartOptions['environment']>,
  print: (line: string) => void,
): Promise<{ registry?: Registry; telemetry?: Telemetry }> {
  if (otlpEndpoint === undefined || environment.OTEL_SDK_DISABLED === 'true') return {}
  const registry = new Registry()
  const { startTelemetry } = await import('./telemetry/otlp.js')
  const telemetry = await startTelemetry({
    environment,
    version: packageVersion(),
    registries: [registry, processFigures()],
    onError: (error) => print(`telemetry waits: ${error.message}`),
  })
  return { registry, telemetry }
}

interface Surroundings extends Pick<Asking, 'refits' | 'engine'> {
  readonly database: Database
  readonly photoStore: PhotoStore
  readonly publicUrl: string
  readonly print: (line: string) => void
}

function servicesOf(config: Config, surroundings: Surroundings): Services {
  const { database, photoStore, publicUrl, print, refits, engine } = surroundings
  return buildServices({
    db: database.service,
    across: database.across,
    publicUrl,
    sessionSecret: config.sessionSecret ?? keptSessionSecret(config.dataDir),
    mail: config.smtpUrl === undefined ? printedMail(print) : smtpMail(config.smtpUrl, config.mailFrom),
    photoStore,
    push: config.push,
    sendOut: new SendOut(new AddressRules(config.webhookNetworks)),
    refits,
    engine,
    now,
    installation: {
      version: packageVersion(),
      startedAt: now(),
      database: { kind: database.kind, ...newestSchema() },
      photoStore: config.photoStore === undefined ? 'folder' : 'bucket',
      mailServer: config.smtpUrl !== undefined,
      lastBackupAt: () => lastBackupAt(config.dataDir),
    },
    onFailure: (error) => print(`a letter was not sent: ${error instanceof Error ? error.message : error}`),
  })
}

/** A server is asked by the command itself; the embedded database has no other door than this process. */
function backupDoor(
  { dataDir }: Config,
  database: Database,
  photoStore: PhotoStore,
  print: (line: string) => void,
): BackupDoor | undefined {
  if (database.kind === 'server') return undefined
  const backedUp = { database, photoStore, dataDir, version: packageVersion() }
  return openBackupDoor(
    dataDir,
    (folder) => writeBackup(backedUp, folder),
    (error) => print(`no backups while it runs: ${error.message}`),
  )
}

async function stop(app: FastifyInstance, beside: Asking | undefined, closeRest: () => Promise<void>): Promise<void> {
  const cutOff = setTimeout(() => app.server.closeAllConnections(), STOP_LIMIT_MS)
  // A client may keep its connection open after the last answer: it is closed as soon as nothing is asked on it.
  const closeIdle = setInterval(() => app.server.closeIdleConnections(), IDLE_CHECK_MS)
  try {
    await app.close()
  } finally {
    clearTimeout(cutOff)
    clearInterval(closeIdle)
    await beside?.stop()
    await closeRest()
  }
}

function isEverywhere(host: string): boolean {
  return host === '0.0.0.0' || host === '::'
}

/** The port must be known before it is listened on: links in letters name it. */
function freePort(host: string): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer()
    probe.once('error', reject)
    probe.listen(0, host, () => {
      const address = probe.address()
      probe.close(() => (typeof address === 'object' && address ? resolve(address.port) : reject(new Error('no port'))))
    })
  })
}

/** Stops on the first signal; a second one ends the process at once, as it would without us. */
export function stopOnSignals(service: RunningService): void {
  for (const signal of ['SIGTERM', 'SIGINT'] as const) {
    process.once(signal, () => {
      // Work that hangs must not keep the process: what was acknowledged is on the disk already.
      setTimeout(() => process.exit(1), GIVE_UP_MS).unref()
      service.stop().then(
        () => process.exit(0),
        (error: unknown) => {
          console.error(error)
          process.exit(1)
        },
      )
    })
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  stopOnSignals(await start())
}
