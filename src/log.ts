import type { FastifyServerOptions } from 'fastify'
import { traceOfLine } from './telemetry/spans.js'

/** How requests are logged: JSON lines, without what would let a reader of the log in. */
export function loggerOptions(level: string): NonNullable<FastifyServerOptions['logger']> {
  return {
    level,
    mixin: traceOfLine,
    redact: ['req.headers.authorization', 'req.headers.cookie', 'res.headers["set-cookie"]'],
    serializers: {
      // A query may hold the token of a link; the name of a calendar is one, and so is what follows the letters.
      req: (request) => ({
        method: request.method,
        url: withoutSecrets(request.url),
        remoteAddress: request.ip,
      }),
    },
  }
}

function withoutSecrets(url: string): string {
  const path = url.split('?', 1)[0] ?? ''
  return path
    .replace(/^\/v1\/calendars\/.*/, '/v1/calendars/…')
    .replace(/^((?:\/v1)?\/letters\/(?:open\/)?)[^/]+/, '$1…')
}
