import { randomUUID } from 'node:crypto'
import { betterAuth } from 'better-auth'
import { drizzleAdapter } from 'better-auth/adapters/drizzle'
import { magicLink } from 'better-auth/plugins/magic-link'
import { z } from 'zod'
import type { Db } from '../../db/client.js'
import { languageOfAddress } from '../../db/repositories/preferences.js'
import { authAccounts, authSessions, authUsers, authVerifications } from '../../db/schema/index.js'
import { type Language, languageOf } from '../../messages/languages.js'
import type { Mail } from '../../outside/mail.js'
import { signInLetter } from './access-letters.js'
import { cookiePrefix, FORMER_NAME_ENDS, underTodaysName, withoutFormerSession } from './cookie-names.js'
import type { MembershipService } from './memberships.js'

/** Somebody who signed in, and by which session they ask. */
export interface SignedInPerson {
  readonly userId: string
  readonly sessionId: string
  readonly email: string
  /** Begun by the link of a letter, which may have been forwarded: good for an owner's eyes alone. */
  readonly byLetter: boolean
}

/** Sign-in of people by a link in a letter, and their sessions. The library behind it is seen here alone. */
export interface SignIn {
  /** Answers one of the library's own requests (link asked for, sign-out, session). */
  handle(request: Request): Promise<Response>
  /** Spends the token of a letter's link: the cookies of a new session, none where the link is spent or too old. */
  followLink(token: string, userAgent: string): Promise<string[]>
  /** Whoever holds the session in these cookies. */
  personOf(cookies: string): Promise<SignedInPerson | undefined>
  /** Sends a link to an address that is known to belong here. */
  sendLink(email: string): Promise<void>
  /** Cookies of a new session without a link to sign in: for whoever has proved otherwise who they are, and for the demo's invented people. */
  cookiesOf(email: string, userAgent: string, begun?: BegunBy): Promise<string[]>
}

export interface BegunBy {
  readonly byLetter: boolean
}

export interface SignInOptions {
  readonly secret: string
  readonly publicUrl: string
  readonly mail: Mail
  readonly memberships: MembershipService
  /** Told when a letter could not be sent; the asker is not, for that would tell which addresses are known. */
  readonly onMailFailure: (error: unknown) => void
}

export const SIGN_IN_PATH = '/v1/auth'
const SIGN_IN_PAGE = '/sign-in'
const LINK_MINUTES = 15
/** What the asker's browser reads, as the route hands it on. */
const Languages = z.array(z.string()).catch([])
const SESSION_DAYS = 30
/** On requests to the library that are made in here: no header of a request from outside reaches it but those that are named. */
const BY_LETTER = 'x-begun-by-letter'
const SECONDS_PER_DAY = 86_400

export function createSignIn(across: Db, options: SignInOptions): SignIn {
  const { publicUrl, memberships } = options
  /** Tokens that are handed to the caller instead of being mailed, by the name the caller gave. */
  const handedOver = new Map<string, string>()
  const auth = betterAuth({
    appName: 'Anode Ledger',
    baseURL: publicUrl,
    basePath: SIGN_IN_PATH,
    secret: options.secret,
    database: drizzleAdapter(across, {
      provider: 'pg',
      schema: { user: authUsers, session: authSessions, account: authAccounts, verification: authVerifications },
    }),
    trustedOrigins: (request) => (request ? [new URL(request.url).origin] : []),
    session: {
      expiresIn: SESSION_DAYS * SECONDS_PER_DAY,
      updateAge: SECONDS_PER_DAY,
      additionalFields: { byLetter: { type: 'boolean', required: true, input: false, defaultValue: false } },
    },
    advanced: {
      cookiePrefix: `${cookiePrefix(publicUrl)}anode_ledger`,
      // Its own way to make cookies secure names them `__Secure-`, which binds them to HTTPS and to no host.
      useSecureCookies: false,
      defaultCookieAttributes: {
        httpOnly: true,
        sameSite: 'lax',
        path: '/',
        secure: publicUrl.startsWith('https:'),
      },
    },
    // The service limits requests itself, for all routes alike.
    rateLimit: { enabled: false },
    telemetry: { enabled: false },
    // Its spans say of a failure what its message says, which may repeat what somebody sent; statements and requests have spans of ours.
    experimental: { instrumentation: { enabled: false } },
    logger: { level: 'error' },
    databaseHooks: {
      session: {
        create: {
          before: async (_session, context) => ({ data: { byLetter: context?.headers?.has(BY_LETTER) ?? false } }),
          after: async (session) => {
            const user = await across.query.authUsers.findFirst({ where: (row, { eq }) => eq(row.id, session.userId) })
            if (user) await memberships.link(user.email, user.id)
          },
        },
      },
    },
    plugins: [
      magicLink({
        storeToken: 'hashed',
        expiresIn: LINK_MINUTES * 60,
        sendMagicLink: async ({ email, token, url, metadata }) => {
          if (typeof metadata?.handOver === 'string') return void handedOver.set(metadata.handOver, token)
          const page = new URL(url).searchParams.get('callbackURL') ?? '/'
          // Not waited for: neither the answer nor its delay tells whether the address is known.
          const asked = languageOf(Languages.parse(metadata?.languages))
          void sendIfKnown(across, { address: email, token, page, asked }, options).catch(options.onMailFailure)
        },
      }),
    ],
  })
  const spend = async (token: string, userAgent: string, { byLetter }: BegunBy): Promise<string[]> => {
    const headers = { 'user-agent': userAgent, ...(byLetter && { [BY_LETTER]: 'yes' }) }
    const answer = await auth.handler(new Request(spendingUrl(publicUrl, token), { headers }))
    const cookies = answer.headers.getSetCookie()
    return cookies.length === 0 ? [] : [...cookies, ...withoutFormerSession(publicUrl)]
  }
  return {
    handle: (request) => {
      const headers = new Headers(request.headers)
      const given = headers.get('cookie')
      if (given !== null) headers.set('cookie', underTodaysName(given, publicUrl).cookies)
      return auth.handler(new Request(request, { headers }))
    },
    followLink: (token, userAgent) => spend(token, userAgent, { byLetter: false }),
    personOf: async (given) => {
      const { cookies, isFormer } = underTodaysName(given, publicUrl)
      const found = await auth.api.getSession({ headers: new Headers({ cookie: cookies }) })
      if (!found || isFromTheFuture(found.session.expiresAt)) return undefined
      if (isFormer && found.session.createdAt >= FORMER_NAME_ENDS) return undefined
      const { id: sessionId, byLetter } = found.session
      return { userId: found.user.id, sessionId, email: found.user.email.toLowerCase(), byLetter }
    },
    sendLink: async (email) => {
      await auth.api.signInMagicLink({ body: { email }, headers: new Headers() })
    },
    cookiesOf: async (email, userAgent, begun = { byLetter: false }) => {
      const handOver = randomUUID()
      await auth.api.signInMagicLink({ body: { email, metadata: { handOver } }, headers: new Headers() })
      const token = handedOver.get(handOver) ?? ''
      handedOver.delete(handOver)
      return spend(token, userAgent, begun)
    },
  }
}

/** A session made while the clock was wrong would last until then; one day of a clock that was put back is borne, so that nobody is signed out by its correction. */
function isFromTheFuture(expiresAt: Date): boolean {
  return expiresAt.getTime() - Date.now() > (SESSION_DAYS + 1) * SECONDS_PER_DAY * 1000
}

/** Where the library spends a token. It does so at once, so the address stays in here: mail programs open what letters hold. */
function spendingUrl(publicUrl: string, token: string): string {
  const url = new URL(`${SIGN_IN_PATH}/magic-link/verify`, publicUrl)
  url.search = new URLSearchParams({ token, callbackURL: '/', errorCallbackURL: SIGN_IN_PAGE }).toString()
  return url.href
}

/** The page that a letter leads to: it asks before it spends the token. @returns a path of this service */
export function linkPage(token: string, page: string): string {
  return `${SIGN_IN_PAGE}/link?${new URLSearchParams({ token, callbackURL: page })}`
}

interface Letter {
  readonly address: string
  readonly token: string
  readonly page: string
  /** The language of the browser that asked. */
  readonly asked: Language
}

async function sendIfKnown(
  across: Db,
  { address, token, page, asked }: Letter,
  { publicUrl, memberships, mail }: SignInOptions,
): Promise<void> {
  const email = address.toLowerCase()
  const known = await memberships.ofAddress(email)
  if (known.length === 0) return
  const language = (await languageOfAddress(across, email)) ?? asked
  const link = new URL(linkPage(token, page), publicUrl).href
  await mail.send(signInLetter({ to: email, language }, link, LINK_MINUTES))
}
