import helmet from '@fastify/helmet'
import rateLimit from '@fastify/rate-limit'
import type { FastifyInstance } from 'fastify'
import { addressOf } from './auth/limit-attempts.js'
import { HttpProblem } from './problem.js'

/** Requests that one asker may send within a minute. */
export interface RateLimit {
  /** Of a key or a person: an offline phone sends a day's work at once, a program a fleet row by row. */
  readonly perIdentity: number
  /** Of an address without an identity; a yard's office shares one. */
  readonly perAddress: number
}

const WINDOW_MS = 60_000
const ADDRESSES_SHARE = 10
/** As many people and programs at full pace may share one address, as a yard's office does. */
const IDENTITIES_AT_AN_ADDRESS = 5
/** Where the build puts scripts, styles and pictures of the web app. */
const BUILT_FILES = '/assets/'

/** A limit for identities, and a tenth of it for addresses without one; 0 means no limit. */
export function rateLimitOf(requestsPerMinute: number): RateLimit | undefined {
  if (requestsPerMinute === 0) return undefined
  return { perIdentity: requestsPerMinute, perAddress: Math.ceil(requestsPerMinute / ADDRESSES_SHARE) }
}

/** Headers that keep a page to this origin's own scripts and data. */
export async function setSecurityHeaders(app: FastifyInstance, publicUrl: string): Promise<void> {
  const isHttps = publicUrl.startsWith('https:')
  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'self'"],
        baseUri: ["'self'"],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
        objectSrc: ["'none'"],
        // Photos are shown before they are uploaded (blob:); icons lie in style sheets (data:).
        imgSrc: ["'self'", 'blob:', 'data:'],
        scriptSrc: ["'self'"],
        scriptSrcAttr: ["'none'"],
        // Plots carry their style with them, in the drawing.
        styleSrc: ["'self'", "'unsafe-inline'"],
        workerSrc: ["'self'"],
        // Told only where it is true: in a yard's network the service is plain HTTP, and pages must not be sent elsewhere.
        ...(isHttps && { upgradeInsecureRequests: [] }),
      },
    },
    strictTransportSecurity: isHttps,
    crossOriginEmbedderPolicy: false,
  })
}

/**
 * Limits how often one asker may ask: all of an address together before anybody is identified, then by identity where there is one, else by
 * address again. Counted in the memory of the process: what a second one lets through as well costs no more than what it can bear.
 */
export async function limitRate(app: FastifyInstance, limit: RateLimit): Promise<void> {
  await app.register(rateLimit, {
    global: true,
    max: (request) => (request.identity ? limit.perIdentity : limit.perAddress),
    timeWindow: WINDOW_MS,
    // The app's own files ask the database for nothing, and a page takes some forty of them.
    allowList: (request) => request.url.startsWith(BUILT_FILES),
    keyGenerator: (request) => {
      const actor = request.identity?.actor
      return actor ? `${actor.organisationId} ${actor.actor}` : addressOf(request)
    },
  })
  const max = IDENTITIES_AT_AN_ADDRESS * limit.perIdentity
  const check = app.createRateLimit({ max, keyGenerator: (request) => addressOf(request) })
  app.addHook('onRequest', async (request) => {
    if (!request.url.startsWith('/v1/')) return
    const state = await check(request)
    if (state.isAllowed || !state.isExceeded) return
    const headers = { 'retry-after': String(state.ttlInSeconds) }
    throw new HttpProblem(429, `Rate limit exceeded, retry in ${state.ttlInSeconds} seconds`, { headers })
  })
}
