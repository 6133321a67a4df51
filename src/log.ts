import type { FastifyServerOptions } from 'fastify'

/** How requests are logged: JSON lines, without what would let a reader of the log in. */
export function loggerOptions(level: string): NonNullable<FastifyServerOptions['logger']> {
  return {
    level,
    redact: ['req.headers.authorization', 'req.headers.cookie', 'res.headers["set-cookie"]'],
    serializers: {
      // A query may hold the token of a link, and the name of a calendar is one.
      req: (request) => ({
        method: request.method,
        url: (request.url.split('?', 1)[0] ?? '').replace(/^\/v1\/calendars\/.*/, '/v1/calendars/…'),
        remoteAddress: request.ip,
      }),
    },
  }
}
