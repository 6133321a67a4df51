import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { LetterAction, LetterLinkView } from '../../contract/notices.js'
import type { LetterAnswers } from '../../services/notices/letter-answers.js'

const tags = ['Letters']
const params = z.object({ token: z.string().max(2000).meta({ description: 'As it stands in the letter' }) })
/** Somebody who answers a letter asks a few times; whoever tries tokens asks often. */
const config = { rateLimit: { max: 60, timeWindow: 60 * 60_000 } }

/** What the links in letters lead to. They work without signing in, for their token is signed; nothing happens by a GET alone, for mail programs follow links. */
export const letterRoutes: FastifyPluginAsyncZod<{ letterAnswers: LetterAnswers; limited: boolean }> = async (
  app,
  { letterAnswers, limited },
) => {
  const limits = limited ? { config } : {}
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
