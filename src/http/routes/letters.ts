import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { LinkFollowed } from '../../contract/access.js'
import { LetterAction, LetterLinkView } from '../../contract/notices.js'
import type { AttemptLimit, Attempts } from '../../services/access/attempts.js'
import type { LetterAnswers } from '../../services/notices/letter-answers.js'
import type { LetterEntry } from '../../services/notices/letter-entry.js'
import { limitAttempts } from '../auth/limit-attempts.js'
import { refuseForeignOrigin } from '../auth/origin.js'

const tags = ['Letters']
const params = z.object({ token: z.string().max(2000).meta({ description: 'As it stands in the letter' }) })
/** Somebody who answers a letter asks a few times; whoever tries tokens asks often. */
const ANSWERS: AttemptLimit = { what: 'letter', max: 60, withinMs: 60 * 60_000 }

interface LetterRouteOptions {
  readonly letterAnswers: LetterAnswers
  readonly letterEntry: LetterEntry
  readonly publicUrl: string
  readonly attempts: Attempts | undefined
}

/** What the links in letters lead to. They work without signing in, for their token is signed; nothing happens by a GET alone, for mail programs follow links. */
export const letterRoutes: FastifyPluginAsyncZod<LetterRouteOptions> = async (app, options) => {
  const { letterAnswers, letterEntry, publicUrl, attempts } = options
  const limits = { preHandler: limitAttempts(attempts, ANSWERS) }
  app.get(
    '/v1/letters/:token',
    {
      ...limits,
      schema: { tags, summary: 'What a letter’s link is about', params, response: { 200: LetterLinkView } },
    },
    (request) => letterAnswers.read(request.params.token),
  )
  app.post(
    '/v1/letters/:token',
    {
      ...limits,
      schema: {
        tags,
        summary: 'Answer a letter: later, done already, no more, or again',
        params,
        body: LetterAction,
        response: { 200: LetterLinkView },
      },
    },
    (request) => letterAnswers.answer(request.params.token, request.body),
  )
  app.post(
    '/v1/letters/:token/open',
    {
      ...limits,
      schema: {
        tags,
        summary: 'Open the owner’s page from a letter',
        description:
          'Sets the session’s cookie for an owner, a month long. For others, and later, it only says which page the letter is about.',
        params,
        response: { 200: LinkFollowed },
      },
    },
    async (request, reply) => {
      refuseForeignOrigin(request, publicUrl)
      const { page, cookies } = await letterEntry.open(request.params.token, request.headers['user-agent'] ?? '')
      if (cookies.length > 0) reply.header('set-cookie', cookies)
      return reply.send({ page })
    },
  )
  await app.register(async (oneClick) => {
    // RFC 8058: a mail program posts the one field `List-Unsubscribe=One-Click` as a form.
    oneClick.addContentTypeParser('application/x-www-form-urlencoded', { parseAs: 'string' }, (_request, _body, done) =>
      done(null, undefined),
    )
    oneClick.post(
      '/v1/letters/:token/unsubscribe',
      {
        ...limits,
        schema: {
          tags,
          summary: 'End all letters to the address, by one click of a mail program (RFC 8058)',
          params,
          response: { 204: z.null() },
        },
      },
      async (request, reply) => {
        const { token } = request.params as z.infer<typeof params>
        await letterAnswers.unsubscribe(token)
        return reply.status(204).send(null)
      },
    )
  })
}
