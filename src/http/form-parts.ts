import type { FastifyRequest } from 'fastify'
import { HttpProblem } from './problem.js'

/** RFC 2046, 5.1.1: the parameter is required, and its value is not empty. */
const HAS_BOUNDARY = /;\s*boundary=(?:"[^"]+"|[^\s";]+)/i

/**
 * Checks that a request is a form whose parts can be told apart.
 *
 * @param what is to be sent, for whoever sent something else
 * @throws HttpProblem 415, 400
 */
export function requireForm(request: FastifyRequest, what: string): void {
  if (!request.isMultipart()) throw new HttpProblem(415, `send ${what} of multipart/form-data`)
  if (!HAS_BOUNDARY.test(request.headers['content-type'] ?? '')) {
    throw new HttpProblem(400, 'the content type of the form names no boundary between its parts')
  }
}

/** What arrives of a form, unless it breaks off: the form's parser has no status for that. */
export async function* whole<T>(arriving: AsyncIterable<T>): AsyncGenerator<T> {
  try {
    yield* arriving
  } catch (error) {
    if (error instanceof Error && 'statusCode' in error) throw error
    throw new HttpProblem(400, 'the form broke off before its end: send it again')
  }
}
