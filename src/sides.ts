import { join } from 'node:path'
import type { FastifyInstance } from 'fastify'
import type { Registry } from 'prom-client'
import type { Config } from './config.js'
import type { Database } from './db/client.js'
import { buildApp } from './http/app.js'
import { rateLimitOf } from './http/security.js'
import { buildWorkerApp } from './http/worker-app.js'
import { loggerOptions } from './log.js'
import { PROJECT_ROOT, packageVersion } from './project-root.js'
import type { FirstStart } from './services/access/set-up.js'
import type { Services } from './services/build-services.js'

/** The side of a process that is turned to its network: what listens, and what is said once it does. */
export interface Side {
  readonly app: FastifyInstance
  readonly lines: readonly string[]
}

export interface Built {
  readonly database: Database
  readonly services: Services
  readonly listensAt: string
  /** As people reach the service, whichever process answers. */
  readonly publicUrl: string
  readonly registry: Registry | undefined
  readonly demo: boolean
}

const WEB_FOLDER = join(PROJECT_ROOT, 'dist', 'web')

/** By what the process does: all of the HTTP side, or the health of a worker. */
export async function sideOf(config: Config, built: Built): Promise<Side> {
  const { app, lines } = await (config.process === 'worker' ? workerSide : serverSide)(config, built)
  return { app, lines: [...lines, ...warnings(config)] }
}

async function serverSide(config: Config, built: Built): Promise<Side> {
  const { database, services, listensAt, publicUrl, registry, demo } = built
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
    metricsToken: config.metricsToken,
    registry,
    logger: loggerOptions(config.logLevel),
    webFolder: WEB_FOLDER,
  })
  const running = `Anode Ledger is at ${listensAt}${publicUrl === listensAt ? '' : ` and is reached as ${publicUrl}`}`
  return { app, lines: [running, ...welcome(firstStart)] }
}

async function workerSide({ metricsToken, logLevel }: Config, { services, registry, listensAt }: Built): Promise<Side> {
  const app = await buildWorkerApp({ services, metricsToken, registry, logger: loggerOptions(logLevel) })
  return { app, lines: [`the worker of Anode Ledger is at ${listensAt} for its health alone`] }
}

function welcome(firstStart: FirstStart): string[] {
  switch (firstStart.done) {
    case 'link made':
      return [`to set it up, open this link; it works once: ${firstStart.link}`]
    case 'organisation made':
      return [`"${firstStart.name}" was made; ADMIN_API_KEY is its administrator's key`]
    case 'key unknown':
      return ['ADMIN_API_KEY is not a key of the organisation that is there; it was left alone']
    default:
      return []
  }
}

/** What cannot be seen from one process, and goes wrong among several. */
function warnings({ process, photoStore, dataDir }: Config): string[] {
  if (process === 'both' || photoStore !== undefined) return []
  const folder = join(dataDir, 'photos')
  return [`photos lie in ${folder} of this host: set PHOTO_STORE, unless every server and worker has that folder`]
}
