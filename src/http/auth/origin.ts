import type { FastifyRequest } from 'fastify'
import { HttpProblem } from '../problem.js'

const READING = new Set(['GET', 'HEAD', 'OPTIONS'])

/**
 * Refuses what another site makes a browser send along with this site's cookies. Browsers name the page's origin with
 * every change, and newer ones how it stands to this site (Fetch Metadata); a program without either has no cookies of ours that it was not
 * given.
 *
 * @throws HttpProblem 403
 */
export function refuseForeignOrigin(request: FastifyRequest, publicUrl: string): void {
  const { origin } = request.headers
  if (READING.has(request.method)) return
  if (origin === undefined) {
    if (request.headers['sec-fetch-site'] === 'cross-site') throw foreign()
    return
  }
  // The service may also be reached by another name of its own (an address in the yard's network).
  if (origin === new URL(publicUrl).origin || hostOf(origin) === request.headers.host) return
  throw foreign()
}

const foreign = () => new HttpProblem(403, 'the request comes from a page of another site')

function hostOf(origin: string): string | undefined {
  return URL.canParse(origin) ? new URL(origin).host : undefined
}
