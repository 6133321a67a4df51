import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod'
import { outOfService } from '../db/out-of-service.js'
import { BadCursor } from '../db/repositories/paging.js'
import { OutOfRange } from '../engine/errors.js'
import {
  Conflict,
  Invalid,
  NotComputed,
  NotFound,
  PartAway,
  PreconditionRequired,
  Stale,
  TooLarge,
  UnsupportedKind,
} from '../services/errors.js'
import { databaseRefusal } from './constraint-sentences.js'
import { HttpProblem, type ProblemMembers, sendProblem } from './problem.js'
import { fieldErrors } from './zod-sentences.js'

interface Refusal {
  readonly status: number
  readonly members: ProblemMembers
  readonly headers?: Readonly<Record<string, string>>
}

/** Databases are back within seconds when they restart. */
const RETRY_AFTER_S = '5'

/** Every error becomes a problem document; what is not the asker's fault is logged and told in three words. */
export function handleErrors(app: FastifyInstance): void {
  app.setErrorHandler((error: FastifyError, request, reply) => answer(error, request, reply))
}

export function refuseUnknownPaths(app: FastifyInstance): void {
  app.setNotFoundHandler(refuseUnknownPath)
}

export function refuseUnknownPath(request: FastifyRequest, reply: FastifyReply): FastifyReply {
  return sendProblem(request, reply, 404, { detail: `there is nothing that answers ${request.method} at this address` })
}

function answer(error: FastifyError, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const refusal = refusalOf(error)
  reply.headers(refusal.headers ?? {})
  if (refusal.status >= 500) request.log.error({ err: error }, 'the request failed')
  return sendProblem(request, reply, refusal.status, refusal.members)
}

function refusalOf(error: FastifyError): Refusal {
  if (error instanceof HttpProblem) return { status: error.status, members: error.members, headers: error.headers }
  if (hasZodFastifySchemaValidationErrors(error)) return invalidRequest(error)
  return (
    refusalOfService(error) ??
    databaseRefusal(error) ??
    refusalOutOfService(error) ??
    refusalOfFramework(error) ?? { status: 500, members: { detail: 'an error of the service; it has been logged' } }
  )
}

/** Whether a write that was under way was done nobody knows: its Idempotency-Key tells when it is sent again. */
function refusalOutOfService(error: Error): Refusal | undefined {
  switch (outOfService(error)) {
    case 'away':
      return inAMoment('the database does not answer just now')
    case 'full':
      return { status: 507, members: { detail: 'the disk of the service is full: nothing was written' } }
    case undefined:
      return undefined
  }
}

function inAMoment(what: string): Refusal {
  const detail = `${what}; send the request again in a moment`
  return { status: 503, members: { detail }, headers: { 'retry-after': RETRY_AFTER_S } }
}

function invalidRequest(error: Parameters<typeof fieldErrors>[0]): Refusal {
  const errors = fieldErrors(error)
  return { status: 400, members: { detail: errors.map((one) => one.detail).join('; '), errors } }
}

function refusalOfService(error: Error): Refusal | undefined {
  const detail = error.message
  if (error instanceof Invalid) return { status: statusOfInvalid(error), members: { detail, errors: error.errors } }
  if (error instanceof NotFound) return { status: 404, members: { detail } }
  if (error instanceof Stale) return { status: 412, members: { detail } }
  if (error instanceof PreconditionRequired) return { status: 428, members: { detail } }
  if (error instanceof Conflict) {
    return { status: 409, members: error.code === undefined ? { detail } : { detail, code: error.code } }
  }
  if (error instanceof PartAway) return inAMoment(detail)
  if (error instanceof NotComputed) return { status: 503, members: { detail } }
  if (error instanceof OutOfRange) return { status: 422, members: { detail } }
  if (error instanceof BadCursor) {
    return { status: 400, members: { detail, errors: [{ pointer: '#/cursor', detail, in: 'query' }] } }
  }
  return undefined
}

function statusOfInvalid(error: Invalid): number {
  if (error instanceof TooLarge) return 413
  return error instanceof UnsupportedKind ? 415 : 422
}

/** Broken JSON, a body that is too large, an unknown media type, too many requests: the framework's own words are plain. */
function refusalOfFramework(error: FastifyError): Refusal | undefined {
  const status = error.statusCode ?? 500
  return status >= 400 && status < 500 ? { status, members: { detail: error.message } } : undefined
}
