import type { FastifyReply } from 'fastify'
import { z } from 'zod'
import { PreconditionRequired, Stale } from '../services/errors.js'

/** The strong entity tag of a row's version. */
export function etagOf(row: { version: number }): string {
  return `"${row.version}"`
}

/**
 * The version that a change is based on, from its If-Match header; the service refuses the change when the row has
 * moved on. `*` is not taken: it would say "whatever it is by now", the lost update that this guards against.
 *
 * @throws PreconditionRequired without the header
 * @throws Stale for a tag that no row can have; a weak one never matches (RFC 9110, 13.1.1)
 */
export function requireMatch(request: { headers: { 'if-match'?: string | undefined } }): number {
  const given = request.headers['if-match']?.trim()
  if (!given || given === '*') throw new PreconditionRequired()
  const version = /^"(\d{1,9})"$/.exec(given)?.[1]
  if (version === undefined) throw new Stale('this')
  return Number(version)
}

/** The same where a step may be taken without: undefined without the header. */
export function matchIfGiven(request: { headers: { 'if-match'?: string | undefined } }): number | undefined {
  return request.headers['if-match'] === undefined ? undefined : requireMatch(request)
}

/** The header that PATCH and DELETE need. Optional in the schema, so that its absence is answered with 428, not 400. */
export const IfMatch = z.looseObject({
  'if-match': z
    .string()
    .optional()
    .meta({ description: 'ETag of the last reading', examples: ['"3"'] }),
})

/** Whether If-None-Match names the tag; it compares weakly (RFC 9110, 13.1.2). */
export function namesTag(given: string | undefined, etag: string): boolean {
  const names = given?.split(',').map((one) => one.trim().replace(/^W\//, '')) ?? []
  return names.includes(etag) || names.includes('*')
}

/** What a route with tags answers to If-None-Match. */
export const UNCHANGED = z.null().describe('As it was when the tag in If-None-Match was given')

/** Sends a row with the tag of its version. */
export function sendTagged<Row extends { version: number }>(reply: FastifyReply, row: Row): Row {
  reply.header('etag', etagOf(row))
  return row
}

/** Sends a row just made, with where it is found from now on. */
export function sendCreated<Row extends { version: number }>(reply: FastifyReply, location: string, row: Row): Row {
  reply.code(201).header('location', location)
  return sendTagged(reply, row)
}
