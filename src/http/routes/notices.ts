import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import {
  NoticePage,
  NoticePreview,
  NoticeQuery,
  PreviewQuery,
  ReminderSettings,
  ReminderSettingsChange,
  ReturnedOutcome,
  TrialOutcome,
  TrialRequest,
} from '../../contract/notices.js'
import type { NoticeService } from '../../services/notices/notice-service.js'
import type { ReturnedLetters } from '../../services/notices/returned-letters.js'
import type { TrialLetter } from '../../services/notices/trial-letter.js'
import { personOf } from '../auth/identity.js'
import { requires } from '../auth/requires.js'
import { HttpProblem } from '../problem.js'

const tags = ['Notices']
const preHandler = requires('notices:read')
const mayChange = { preHandler: requires('organisation:manage') }

const MAIL = 'message/rfc822'
/** A letter with its plot is some 60 kB, and comes back whole inside a report. */
const LARGEST_MAIL_BYTES = 2 * 1024 * 1024

export interface NoticeRouteServices {
  readonly notices: NoticeService
  readonly returnedLetters: ReturnedLetters
  readonly trialLetter: TrialLetter
}

/** What an organisation writes to owners: when, what was sent to whom and why, what would be, what came back. */
export const noticeRoutes: FastifyPluginAsyncZod<NoticeRouteServices> = async (app, services) => {
  const { notices, returnedLetters, trialLetter } = services
  app.get(
    '/v1/reminders',
    { preHandler, schema: { tags, summary: 'When owners are written to', response: { 200: ReminderSettings } } },
    (request) => notices.settings(request.actor),
  )
  app.patch(
    '/v1/reminders',
    {
      ...mayChange,
      schema: {
        tags,
        summary: 'Change when owners are written to',
        description: 'Switched on, letters that are due are decided at once and sent outside the quiet hours.',
        body: ReminderSettingsChange,
        response: { 200: ReminderSettings },
      },
    },
    (request) => notices.change(request.actor, request.body),
  )
  app.get(
    '/v1/notices',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Letters, with why they were sent and what became of them',
        querystring: NoticeQuery,
        response: { 200: NoticePage },
      },
    },
    (request) => notices.page(request.actor, request.query),
  )
  app.get(
    '/v1/notices/preview',
    {
      preHandler,
      schema: {
        tags,
        summary: 'What would be sent over the coming days as things stand',
        querystring: PreviewQuery,
        response: { 200: NoticePreview },
      },
    },
    (request) => notices.preview(request.actor, request.query.days),
  )
  app.post(
    '/v1/notices/trial',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Send a letter of the preview to yourself',
        description: 'Nobody else is written to, and the letter is due as before.',
        body: TrialRequest,
        response: { 200: TrialOutcome },
      },
    },
    (request) => {
      const person = personOf(request)
      if (person === undefined)
        throw new HttpProblem(403, 'a key has no address that a letter could be sent to: sign in')
      return trialLetter.send(request.actor, person.email, request.body)
    },
  )
  app.post(
    '/v1/notices/:notice/retry',
    {
      ...mayChange,
      schema: {
        tags,
        summary: 'Try a letter again that was given up or refused',
        params: z.object({ notice: z.uuid() }),
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      await notices.retry(request.actor, request.params.notice)
      return reply.status(204).send(null)
    },
  )
  await app.register(async (returned) => {
    returned.addContentTypeParser(MAIL, { parseAs: 'buffer', bodyLimit: LARGEST_MAIL_BYTES }, (_request, body, done) =>
      done(null, body),
    )
    returned.post(
      '/v1/notices/returned',
      {
        ...mayChange,
        bodyLimit: LARGEST_MAIL_BYTES,
        schema: {
          tags,
          summary: 'Hand on a mail that came back',
          description:
            'For the mailbox of `MAIL_FROM`: a mail server sends each mail that arrives there, as it is. Delivery status notifications (RFC 3464) and complaints (RFC 5965) about a letter are noted with it; any other mail changes nothing.',
          consumes: [MAIL],
          body: z.any().meta({ type: 'string', format: 'binary', description: 'The mail (RFC 5322)' }),
          response: { 200: ReturnedOutcome },
        },
      },
      (request) => {
        if (!Buffer.isBuffer(request.body)) throw new HttpProblem(415, `send the mail as ${MAIL}`)
        return returnedLetters.take(request.actor, request.body)
      },
    )
  })
}
