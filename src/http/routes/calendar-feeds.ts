import type { FastifyReply, FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import {
  CalendarFeedParams,
  CalendarFeeds,
  CalendarFeedWithLink,
  CalendarFile,
  NewCalendarFeed,
} from '../../contract/calendar-feeds.js'
import type { CalendarFeedService } from '../../services/calendar/calendar-feed-service.js'
import type { ReadFeed } from '../../services/calendar/feed-reader.js'
import { NotFound } from '../../services/errors.js'
import { personOf } from '../auth/identity.js'
import { requires } from '../auth/requires.js'
import { IfMatch, namesTag, requireMatch, sendCreated, sendTagged, UNCHANGED } from '../etag.js'
import { HttpProblem } from '../problem.js'

const tags = ['Calendars']
const preHandler = requires('self:read')
const config = { givenOnce: ['link'] }
/** Calendar programs read every quarter of an hour at most. */
const READINGS = { max: 60, timeWindow: 60 * 60_000 }

const CALENDAR = {
  description: 'The calendar',
  content: { 'text/calendar': { schema: z.unknown().meta({ type: 'string' }) } },
}

/** Private links to calendars of whoever asks, and the calendars behind them. */
export const calendarFeedRoutes: FastifyPluginAsyncZod<{
  calendarFeeds: CalendarFeedService
  limited: boolean
}> = async (app, { calendarFeeds, limited }) => {
  app.get(
    '/v1/me/calendar-feeds',
    { preHandler, schema: { tags, summary: 'Your calendar links', response: { 200: CalendarFeeds } } },
    async (request) => ({ items: await calendarFeeds.all(request.actor, personOf(request)) }),
  )
  app.post(
    '/v1/me/calendar-feeds',
    {
      preHandler,
      config,
      schema: {
        tags,
        summary: 'Make a calendar link',
        description:
          'Whoever has the link can read the calendar. It is in this answer and nowhere else; sent again with its Idempotency-Key it comes without.',
        body: NewCalendarFeed,
        response: { 201: CalendarFeedWithLink },
      },
    },
    async (request, reply) => {
      const feed = await calendarFeeds.create(request.actor, personOf(request), request.body)
      return sendCreated(reply, `/v1/me/calendar-feeds/${feed.id}`, feed)
    },
  )
  app.post(
    '/v1/me/calendar-feeds/:feed/link',
    {
      preHandler,
      config,
      schema: {
        tags,
        summary: 'Renew a calendar link',
        description: 'The link before opens nothing any more; the events keep their ids.',
        params: CalendarFeedParams,
        headers: IfMatch,
        response: { 200: CalendarFeedWithLink },
      },
    },
    async (request, reply) => {
      const version = requireMatch(request)
      return sendTagged(
        reply,
        await calendarFeeds.renew(request.actor, personOf(request), request.params.feed, version),
      )
    },
  )
  app.delete(
    '/v1/me/calendar-feeds/:feed',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Revoke a calendar link',
        params: CalendarFeedParams,
        headers: IfMatch,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      await calendarFeeds.revoke(request.actor, personOf(request), request.params.feed, requireMatch(request))
      return reply.code(204).send(null)
    },
  )

  const checkReadings = limited
    ? app.createRateLimit({ ...READINGS, keyGenerator: (request) => `calendar ${request.url.split('?', 1)[0]}` })
    : undefined
  async function refuseTooMany(request: FastifyRequest): Promise<void> {
    const limit = await checkReadings?.(request)
    if (limit === undefined || limit.isAllowed || !limit.isExceeded) return
    const headers = { 'retry-after': String(limit.ttlInSeconds) }
    throw new HttpProblem(429, `this calendar is read ${READINGS.max} times an hour at most`, { headers })
  }

  app.get(
    '/v1/calendars/:file',
    {
      schema: {
        tags,
        summary: 'A calendar, by its private link',
        description: 'iCalendar (RFC 5545, RFC 7986). Answers 304 where If-None-Match names what was read last.',
        params: CalendarFile,
        response: { 200: CALENDAR, 304: UNCHANGED },
      },
    },
    async (request, reply) => {
      const token = tokenIn(request.params.file)
      await refuseTooMany(request)
      return sendCalendar(request, reply, await calendarFeeds.open(token))
    },
  )
}

function tokenIn(file: string): string {
  const token = /^([\w-]{1,90})\.ics$/.exec(file)?.[1]
  if (token === undefined) throw new NotFound('the calendar')
  return token
}

async function sendCalendar(
  request: FastifyRequest,
  reply: FastifyReply,
  { tag, text }: ReadFeed,
): Promise<FastifyReply> {
  reply.header('etag', tag).header('cache-control', 'private, max-age=900').header('x-robots-tag', 'noindex')
  if (namesTag(request.headers['if-none-match'], tag)) return reply.code(304).send()
  return reply
    .type('text/calendar; charset=utf-8')
    .header('content-disposition', 'inline; filename="anodes.ics"')
    .send(await text())
}
