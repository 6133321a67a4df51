import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { KeyOfRequest } from '../db/repositories/idempotency-keys.js'
import type { IdempotencyService, StoredAnswer } from '../services/access/idempotency.js'
import { sha256 } from '../services/access/secrets.js'
import { HttpProblem } from './problem.js'

declare module 'fastify' {
  interface FastifyRequest {
    /** The key that this request holds until it is answered. */
    heldKey: KeyOfRequest | null
  }
  interface FastifyContextConfig {
    /** Members of the answer that are given once: what is kept for a repetition has null in their place. */
    givenOnce?: readonly string[]
  }
}

const LONGEST_KEY = 255
const RETRY_AFTER_S = '2'
/** Headers of an answer that belong to what was done, and are given again with it. */
const KEPT_HEADERS = ['content-type', 'location', 'etag'] as const

/**
 * Idempotency-Key on every POST under /v1 by somebody: a phone that does not know whether its request arrived sends it
 * again, and gets the first one's answer with `Idempotent-Replay: true`. The same key with another request is refused (422),
 * and so is one whose first request is still running (409, Retry-After). Answers of 500 and above are not kept: the
 * request may be tried again.
 *
 * Requests are the same when method, path and body are. A multipart body is not read for this: its length stands for it.
 */
export function repeatSafely(app: FastifyInstance, idempotency: IdempotencyService): void {
  app.decorateRequest('heldKey', null)

  app.addHook('preHandler', async (request, reply) => {
    const key = keyOf(request)
    if (!key) return
    const reservation = await idempotency.reserve(key, fingerprint(request))
    if (reservation.state === 'reserved') {
      request.heldKey = key
      return
    }
    if (reservation.state === 'answered') return replay(reply, reservation.answer)
    throw refusal(reservation.state)
  })

  app.addHook('onSend', async (request, reply, payload) => {
    const key = request.heldKey
    if (!key) return
    request.heldKey = null
    // A stream can be given only once.
    const body = bodyText(payload)
    if (reply.statusCode >= 500 || body === undefined) await idempotency.release(key)
    else {
      const kept = withoutSecrets(body, request.routeOptions.config.givenOnce ?? [])
      await idempotency.complete(key, { status: reply.statusCode, headers: keptHeaders(reply), body: kept })
    }
  })
}

function keyOf(request: FastifyRequest): KeyOfRequest | undefined {
  const key = request.headers['idempotency-key']
  if (key === undefined || request.method !== 'POST' || !request.identity) return undefined
  if (typeof key !== 'string' || key.length === 0 || key.length > LONGEST_KEY) {
    throw new HttpProblem(400, `Idempotency-Key must have 1 to ${LONGEST_KEY} characters`)
  }
  const { organisationId, actor } = request.actor
  return { organisationId, actor, key }
}

function fingerprint(request: FastifyRequest): string {
  const body = request.isMultipart() ? `multipart ${request.headers['content-length']}` : JSON.stringify(request.body)
  return sha256(`${request.method} ${request.url}\n${body}`)
}

function replay(reply: FastifyReply, answer: StoredAnswer): FastifyReply {
  return reply
    .code(answer.status)
    .headers(answer.headers)
    .header('idempotent-replay', 'true')
    .serializer((body: unknown) => String(body))
    .send(answer.body)
}

function refusal(state: 'running' | 'other request'): HttpProblem {
  if (state === 'other request') return new HttpProblem(422, 'this Idempotency-Key was used with another request')
  return new HttpProblem(409, 'the first request with this Idempotency-Key is still running; ask again', {
    headers: { 'retry-after': RETRY_AFTER_S },
  })
}

function bodyText(payload: unknown): string | undefined {
  if (payload === undefined || payload === null) return ''
  if (typeof payload === 'string') return payload
  return Buffer.isBuffer(payload) ? payload.toString('utf8') : undefined
}

/** A secret that is hashed everywhere else must not lie in the table of answers. */
function withoutSecrets(body: string, givenOnce: readonly string[]): string {
  if (givenOnce.length === 0 || body === '') return body
  return JSON.stringify({ ...JSON.parse(body), ...Object.fromEntries(givenOnce.map((member) => [member, null])) })
}

function keptHeaders(reply: FastifyReply): Record<string, string> {
  const kept = KEPT_HEADERS.map((name) => [name, reply.getHeader(name)] as const)
  return Object.fromEntries(kept.flatMap(([name, value]) => (value === undefined ? [] : [[name, String(value)]])))
}
