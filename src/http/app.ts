import { randomUUID } from 'node:crypto'
import cookie from '@fastify/cookie'
import multipart from '@fastify/multipart'
import fastify, { type FastifyInstance, type FastifyServerOptions } from 'fastify'
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod'
import { Registry } from 'prom-client'
import type { Services } from '../services/build-services.js'
import { guardRoutes } from './auth/guard-routes.js'
import { identifyRequests } from './auth/identity.js'
import { KeyGuesses } from './auth/key-guesses.js'
import { refuseDeepBodies } from './body-depth.js'
import { handleErrors, refuseUnknownPaths } from './error-handler.js'
import { repeatSafely } from './idempotency.js'
import { measure, tellMetrics } from './metrics.js'
import { describeApi } from './openapi.js'
import { registerRoutes } from './routes/index.js'
import { isBuilt, serveWebApp } from './routes/web.js'
import { limitRate, type RateLimit, setSecurityHeaders } from './security.js'
import { traceRequests } from './tracing.js'
import { REFUSAL_OF_UNREADABLE } from './unreadable-requests.js'

export interface AppOptions {
  readonly services: Services
  /** Where people reach the service: links in mail begin with it, and cookies are secure when it is HTTPS. */
  readonly publicUrl: string
  /** Of the service, as its API tells it. */
  readonly version: string
  /** Whether the demo's own doors are there. */
  readonly demo?: boolean
  /** Undefined: no limit. */
  readonly rateLimit?: RateLimit | undefined
  /** Proxies whose word on the asker's address counts: how many, or which. Undefined: none. */
  readonly trustProxy?: number | readonly string[] | undefined
  /** Opens /metrics to whoever shows it; undefined: there are none. */
  readonly metricsToken?: string | undefined
  /** What requests are measured into, where somebody besides reads it. */
  readonly registry?: Registry | undefined
  readonly logger?: FastifyServerOptions['logger']
  /** The built web app; undefined: none is served. */
  readonly webFolder?: string | undefined
}

/** A body of JSON; files come as multipart with limits of their own. */
const LARGEST_JSON_BYTES = 2 * 1024 * 1024
/** A CSV file or a photo. */
const LARGEST_FILE_BYTES = 64 * 1024 * 1024
/** A day's photos over the worst line of a dock; whoever sends slower than that holds a connection for nothing. */
const REQUEST_PATIENCE_MS = 10 * 60_000

/** The whole HTTP side: doors, guards, rules and routes around services that are built already. */
export async function buildApp(options: AppOptions): Promise<FastifyInstance> {
  const { services, publicUrl } = options
  const app = fastify({
    logger: options.logger ?? false,
    bodyLimit: LARGEST_JSON_BYTES,
    requestTimeout: REQUEST_PATIENCE_MS,
    trustProxy: trusted(options.trustProxy),
    genReqId: () => randomUUID(),
    // A request that is being answered when the service stops is finished first.
    forceCloseConnections: 'idle',
    routerOptions: { maxParamLength: 500 },
    ...REFUSAL_OF_UNREADABLE,
  })
  app.setValidatorCompiler(validatorCompiler)
  app.setSerializerCompiler(serializerCompiler)
  handleErrors(app)
  traceRequests(app)
  app.addHook('onSend', async (request, reply) => {
    reply.header('x-request-id', request.id)
    // What one person may read must not be kept for the next one on the same device or behind the same proxy.
    if (request.url.startsWith('/v1/') && !reply.hasHeader('cache-control')) {
      reply.header('cache-control', 'private, no-cache')
    }
  })
  const { metricsToken, registry = metricsToken === undefined ? undefined : new Registry() } = options
  if (registry !== undefined) measure(app, services.figures, registry)
  if (registry !== undefined && metricsToken !== undefined) tellMetrics(app, registry, metricsToken)
  await setSecurityHeaders(app, publicUrl)
  await app.register(cookie)
  await app.register(multipart, { limits: { fileSize: LARGEST_FILE_BYTES, files: 20, fields: 20, parts: 40 } })
  // Before anybody is identified, which takes the database.
  if (options.rateLimit) await limitRate(app, options.rateLimit)
  const keyGuesses = options.rateLimit && new KeyGuesses(services.attempts)
  identifyRequests(app, { ...services, publicUrl, keyGuesses })
  guardRoutes(app)
  refuseDeepBodies(app)
  repeatSafely(app, services.idempotency)
  await describeApi(app, options.version)
  await registerRoutes(app, options)
  if (options.webFolder !== undefined && isBuilt(options.webFolder)) await serveWebApp(app, options.webFolder)
  else refuseUnknownPaths(app)
  return app
}

/** How many hops from here back are believed, or which addresses. */
function trusted(proxies: AppOptions['trustProxy']): NonNullable<FastifyServerOptions['trustProxy']> {
  if (typeof proxies === 'number') return (_address, hop) => hop < proxies
  return proxies === undefined ? false : [...proxies]
}
