import type { FastifyReply, FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { FollowLink, LinkFollowed, LinkQuery, LinkRequest } from '../../contract/access.js'
import type { AttemptLimit, Attempts } from '../../services/access/attempts.js'
import { organisationCookie, withoutFormerSession } from '../../services/access/cookie-names.js'
import { linkPage, type SignIn } from '../../services/access/sign-in.js'
import { acceptedLanguages } from '../accept.js'
import { limitAttempts } from '../auth/limit-attempts.js'
import { refuseForeignOrigin } from '../auth/origin.js'
import { HttpProblem } from '../problem.js'

const LinkSent = z
  .object({ status: z.literal(true) })
  .meta({ id: 'LinkSent', description: 'The same whether or not the address is known' })

const SignedOut = z.object({ success: z.literal(true) }).meta({ id: 'SignedOut' })

const QUARTER_MS = 15 * 60_000
/** Links that one letter box may be sent: enough for a slow mail server, too few to fill it. */
const LINKS: AttemptLimit = { what: 'link', max: 5, withinMs: QUARTER_MS }
/** Links that one address of the network may ask for: a crew that signs in at its yard in the morning, no more. */
const ASKED_LINKS: AttemptLimit = { what: 'links asked for', max: 60, withinMs: QUARTER_MS }
/** A person follows a link once or twice; whoever tries tokens tries often. */
const FOLLOWED_LINKS: AttemptLimit = { what: 'links followed', max: 60, withinMs: QUARTER_MS }

/** Sign-in of people: a link by mail, the link followed, sign-out. */
export const signInRoutes: FastifyPluginAsyncZod<{
  signIn: SignIn
  publicUrl: string
  attempts: Attempts | undefined
}> = async (app, { signIn, publicUrl, attempts }) => {
  const forward = async (request: FastifyRequest, reply: FastifyReply, body?: string) => {
    refuseForeignOrigin(request, publicUrl)
    return give(reply, await signIn.handle(webRequest(request, publicUrl, body)))
  }

  app.post(
    '/v1/auth/sign-in/magic-link',
    {
      preHandler: [
        limitAttempts(attempts, ASKED_LINKS),
        limitAttempts(attempts, LINKS, ({ body }) => String(LinkRequest.safeParse(body).data?.email)),
      ],
      schema: {
        tags: ['Sign-in'],
        summary: 'Ask for a link to sign in',
        description: 'Sent to members and to owners of boats; the answer is the same for any address.',
        body: LinkRequest,
        response: { 200: LinkSent },
      },
    },
    async (request, reply) => {
      const { email, callbackURL } = request.body
      const languages = acceptedLanguages(request.headers['accept-language'])
      return forward(
        request,
        reply,
        JSON.stringify({ email, ...(callbackURL && { callbackURL }), metadata: { languages } }),
      )
    },
  )

  app.get(
    '/v1/auth/magic-link/verify',
    {
      schema: {
        tags: ['Sign-in'],
        summary: 'See the page of a letter’s link',
        description:
          'Leads to the page that asks before it signs in. The link is not spent by reading: mail programs open links to look at them.',
        querystring: LinkQuery,
        response: { 302: z.null().describe('To the page that asks') },
      },
    },
    async (request, reply) => reply.redirect(linkPage(request.query.token, request.query.callbackURL ?? '/')),
  )

  app.post(
    '/v1/auth/magic-link/verify',
    {
      preHandler: limitAttempts(attempts, FOLLOWED_LINKS),
      schema: {
        tags: ['Sign-in'],
        summary: 'Follow the link of a letter',
        description: 'Spends the link and sets the session’s cookie.',
        body: FollowLink,
        response: { 200: LinkFollowed },
      },
    },
    async (request, reply) => {
      refuseForeignOrigin(request, publicUrl)
      const { token, callbackURL } = request.body
      const cookies = await signIn.followLink(token, request.headers['user-agent'] ?? '')
      if (cookies.length === 0) throw new HttpProblem(410, 'the link is spent or too old: ask for a new one')
      return reply.header('set-cookie', cookies).send({ page: callbackURL ?? '/' })
    },
  )

  app.post(
    '/v1/auth/sign-out',
    { schema: { tags: ['Sign-in'], summary: 'End the session', response: { 200: SignedOut } } },
    async (request, reply) => {
      const { name, options } = organisationCookie(publicUrl)
      reply.clearCookie(name, options).header('set-cookie', withoutFormerSession(publicUrl))
      return forward(request, reply, '{}')
    },
  )
}

/** The library speaks the web's Request; the origin was judged before, so it is given as the service's own. */
function webRequest(request: FastifyRequest, publicUrl: string, body: string | undefined): Request {
  const headers = new Headers({ origin: new URL(publicUrl).origin, 'user-agent': request.headers['user-agent'] ?? '' })
  if (request.headers.cookie) headers.set('cookie', request.headers.cookie)
  if (body !== undefined) headers.set('content-type', 'application/json')
  const url = new URL(request.url, publicUrl)
  return new Request(url, { method: request.method, headers, ...(body !== undefined && { body }) })
}

async function give(reply: FastifyReply, answer: Response): Promise<FastifyReply> {
  if (answer.status >= 500) throw new Error(`the sign-in failed: ${await answer.text()}`)
  if (answer.status >= 400) throw new HttpProblem(answer.status, 'the sign-in was refused')
  const location = answer.headers.get('location')
  if (location) reply.header('location', location)
  const cookies = answer.headers.getSetCookie()
  if (cookies.length > 0) reply.header('set-cookie', cookies)
  const text = await answer.text()
  return reply.code(answer.status).type('application/json').serializer(String).send(text)
}
