import { normalizeIP } from '@fastify/rate-limit'
import type { FastifyRequest } from 'fastify'
import type { AttemptLimit, Attempts } from '../../services/access/attempts.js'
import { HttpProblem } from '../problem.js'

/** Who asks, as far as the network tells: of IPv6 the network of 64 bits, for one customer has all of its addresses (RFC 6177). */
export const addressOf = ({ ip }: FastifyRequest): string => normalizeIP(ip)

/**
 * Counts each request of somebody, and refuses those beyond the limit; as a `preHandler`.
 *
 * @param attempts undefined: nothing is limited
 * @param who whose attempts are counted together; the asker's address unless given
 * @throws HttpProblem 429 with Retry-After
 */
export function limitAttempts(
  attempts: Attempts | undefined,
  limit: AttemptLimit,
  who: (request: FastifyRequest) => string = addressOf,
) {
  return async (request: FastifyRequest): Promise<void> => {
    const waitS = (await attempts?.count(limit, who(request))) ?? 0
    if (waitS > 0) throw tooMany(waitS)
  }
}

export function tooMany(waitS: number): HttpProblem {
  const headers = { 'retry-after': String(waitS) }
  return new HttpProblem(429, `too many attempts: try again in ${waitS} s`, { headers })
}
