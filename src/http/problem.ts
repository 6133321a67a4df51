import { STATUS_CODES } from 'node:http'
import type { FastifyReply, FastifyRequest } from 'fastify'

/** Members of a problem document beyond type, title, status and instance. */
export interface ProblemMembers {
  readonly detail?: string
  readonly errors?: readonly object[]
  readonly [extension: string]: unknown
}

/** A refusal that only the border knows: identity, permission, headers. Services throw their own errors. */
export class HttpProblem extends Error {
  readonly status: number
  readonly members: ProblemMembers
  readonly headers: Readonly<Record<string, string>>

  constructor(status: number, detail: string, more: { members?: object; headers?: Record<string, string> } = {}) {
    super(detail)
    this.name = 'HttpProblem'
    this.status = status
    this.members = { detail, ...more.members }
    this.headers = more.headers ?? {}
  }
}

/** Answers with a problem document (RFC 9457). */
export function sendProblem(
  request: FastifyRequest,
  reply: FastifyReply,
  status: number,
  members: ProblemMembers = {},
): FastifyReply {
  const problem = {
    type: 'about:blank',
    title: STATUS_CODES[status] ?? 'Unknown',
    status,
    instance: withoutQuery(request.url),
    ...members,
  }
  // Without a serializer of its own the answer would be pressed into the route's response schema.
  return reply
    .code(status)
    .type('application/problem+json')
    .serializer((body: unknown) => JSON.stringify(body))
    .send(problem)
}

/** A query may hold a token, and instance is a URI reference: characters that it may not hold are escaped. */
function withoutQuery(url: string): string {
  const path = url.split('?', 1)[0] ?? '/'
  return path.replace(/[^\w\-.~!$&'()*+,;=:@/%]|%(?![\da-fA-F]{2})/g, (character) => encodeCharacter(character))
}

function encodeCharacter(character: string): string {
  return `%${character.charCodeAt(0).toString(16).toUpperCase().padStart(2, '0')}`
}
