import { createServer } from 'node:net'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { FastifyInstance } from 'fastify'
import { type Config, readConfig } from './config.js'
import { type Database, openDatabase } from './db/client.js'
import { migrateDatabase } from './db/migrate.js'
import { buildApp } from './http/app.js'
import { rateLimitOf } from './http/security.js'
import { type Background, startBackground } from './jobs/background.js'
import { Delivering } from './jobs/delivering.js'
import { loggerOptions } from './log.js'
import { printedMail, smtpMail } from './outside/mail.js'
import { openPhotoStore } from './outside/photo-store.js'
import { AddressRules } from './outside/web/address-rules.js'
import { SendOut } from './outside/web/send-out.js'
import { PROJECT_ROOT, packageVersion } from './project-root.js'
import { keptSessionSecret } from './services/access/session-secret.js'
import type { FirstStart } from './services/access/set-up.js'
import { buildServices, type Services } from './services/build-services.js'

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

const WEB_FOLDER = join(PROJECT_ROOT, 'dist', 'web')
/** Requests that take longer are cut off when the service stops. */
const STOP_LIMIT_MS = 10_000
const IDLE_CHECK_MS = 100
const GIVE_UP_MS = 2 * STOP_LIMIT_MS
const now = () => new Date()

/** Starts the whole service in this process: database, migrations, services, HTTP. */
export async function start(options: StartOptions = {}): Promise<RunningService> {
  const { environment = process.env, demo = false, print = console.log } = options
  const config = readConfig(environment)
  const port = config.port === 0 ? await freePort(config.host) : config.port
  const publicUrl = config.publicUrl ?? `http://${isEverywhere(config.host) ? 'localhost' : config.host}:${port}`
  const database = await openDatabase(config)
  let background: Background | undefined
  try {
    await migrateDatabase(database)
    background = await startBackground({
      database,
      now,
      onError: (error) => print(`a job went wrong: ${error.message}`),
    })
    const { refits, engine } = background
    const services = await servicesOf(config, { database, refits, engine, publicUrl, print })
    background.everyNight(() => services.photos.sweep())
    background.everyNight(() => services.webhookDeliverer.forgetOld())
    background.everyHour(() => services.noticeDecider.decideAll())
    if (database.kind === 'embedded') await services.idempotency.releaseAbandoned()
    const firstStart = await database.withStartLock(() =>
      services.setUp.atStart(config.adminApiKey, config.organisationName),
    )
    const app = await buildApp({
      services,
      publicUrl,
      version: packageVersion(),
      demo,
      rateLimit: rateLimitOf(config.requestsPerMinute),
      trustProxy: config.trustProxy,
      logger: loggerOptions(config.logLevel),
      webFolder: WEB_FOLDER,
    })
    await app.listen({ host: config.host, port })
    for (const line of welcome(firstStart, publicUrl)) print(line)
    const delivering = new Delivering(services.webhookDeliverer, (error) => print(`webhooks wait: ${error.message}`))
    const mailing = new Delivering(services.noticeSender, (error) => print(`letters wait: ${error.message}`))
    const stopAll = async () => {
      await Promise.all([delivering.stop(), mailing.stop()])
      await stop(app, background, database)
    }
    return { address: publicUrl, app, services, database, stop: stopAll }
  } catch (error) {
    await background?.stop()
    await database.close()
    throw error
  }
}

interface Surroundings extends Pick<Background, 'refits' | 'engine'> {
  readonly database: Database
  readonly publicUrl: string
  readonly print: (line: string) => void
}

async function servicesOf(config: Config, surroundings: Surroundings): Promise<Services> {
  const { database, publicUrl, print, refits, engine } = surroundings
  return buildServices({
    db: database.db,
    publicUrl,
    sessionSecret: config.sessionSecret ?? keptSessionSecret(config.dataDir),
    mail: config.smtpUrl === undefined ? printedMail(print) : smtpMail(config.smtpUrl, config.mailFrom),
    photoStore: await openPhotoStore(config.photoStore, join(config.dataDir, 'photos')),
    push: config.push,
    sendOut: new SendOut(new AddressRules(config.webhookNetworks)),
    refits,
    engine,
    now,
    onFailure: (error) => print(`a letter was not sent: ${error instanceof Error ? error.message : error}`),
  })
}

async function stop(app: FastifyInstance, background: Background | undefined, database: Database): Promise<void> {
  const cutOff = setTimeout(() => app.server.closeAllConnections(), STOP_LIMIT_MS)
  // A client may keep its connection open after the last answer: it is closed as soon as nothing is asked on it.
  const closeIdle = setInterval(() => app.server.closeIdleConnections(), IDLE_CHECK_MS)
  try {
    await app.close()
  } finally {
    clearTimeout(cutOff)
    clearInterval(closeIdle)
    await background?.stop()
    await database.close()
  }
}

function welcome(firstStart: FirstStart, address: string): string[] {
  const running = `Anode Ledger is at ${address}`
  switch (firstStart.done) {
    case 'link made':
      return [running, `to set it up, open this link; it works once: ${firstStart.link}`]
    case 'organisation made':
      return [running, `"${firstStart.name}" was made; ADMIN_API_KEY is its administrator's key`]
    case 'key unknown':
      return [running, 'ADMIN_API_KEY is not a key of the organisation that is there; it was left alone']
    default:
      return [running]
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
