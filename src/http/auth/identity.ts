import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { KeyScope } from '../../contract/access.js'
import type { ApiKeyService } from '../../services/access/api-keys.js'
import { organisationCookie } from '../../services/access/cookie-names.js'
import type { Membership, MembershipService } from '../../services/access/memberships.js'
import type { SignedInPerson, SignIn } from '../../services/access/sign-in.js'
import type { Actor } from '../../services/actor.js'
import { HttpProblem } from '../problem.js'
import type { KeyGuesses } from './key-guesses.js'
import { refuseForeignOrigin } from './origin.js'

/** Who asks: a program by its key, or a person by the session of a signed cookie. */
export type Identity =
  | { readonly kind: 'key'; readonly actor: Actor; readonly scope: KeyScope }
  | {
      readonly kind: 'person'
      readonly email: string
      readonly person: SignedInPerson
      readonly memberships: readonly Membership[]
      /** The organisation the person acts in now. */
      readonly actor: Actor
    }

declare module 'fastify' {
  interface FastifyRequest {
    /** Nobody, before and without signing in. */
    identity: Identity | null
    /** Why there is no identity although one was claimed. */
    identityRefusal: HttpProblem | null
    /** Whoever acts, decided once. Throws 401 (or why the identity is refused) where there is none. */
    readonly actor: Actor
  }
}

export interface Identifies {
  readonly apiKeys: ApiKeyService
  readonly signIn: SignIn
  readonly memberships: MembershipService
  readonly publicUrl: string
  /** Undefined: wrong keys are not counted. */
  readonly keyGuesses: KeyGuesses | undefined
}

/** Finds out, before anything of a request under /v1 is read, who sends it. */
export function identifyRequests(app: FastifyInstance, from: Identifies): void {
  app.decorateRequest('identity', null)
  app.decorateRequest('identityRefusal', null)
  app.decorateRequest('actor', {
    getter(this: FastifyRequest): Actor {
      if (this.identity) return this.identity.actor
      throw this.identityRefusal ?? unauthorized('sign in, or send an API key as "Authorization: Bearer …"')
    },
  })
  app.addHook('onRequest', async (request) => {
    if (!request.url.startsWith('/v1/')) return
    try {
      request.identity = await identify(request, from)
    } catch (error) {
      if (!(error instanceof HttpProblem)) throw error
      request.identityRefusal = error
    }
  })
}

/** The person who asks; undefined for a program. */
export function personOf({ identity }: FastifyRequest): SignedInPerson | undefined {
  return identity?.kind === 'person' ? identity.person : undefined
}

function unauthorized(detail: string): HttpProblem {
  return new HttpProblem(401, detail, { headers: { 'www-authenticate': 'Bearer realm="Anode Ledger"' } })
}

async function identify(request: FastifyRequest, from: Identifies): Promise<Identity | null> {
  const authorization = request.headers.authorization
  if (authorization !== undefined) return identifyKey(request, authorization, from)
  if (request.headers.cookie === undefined) return null
  const person = await from.signIn.personOf(request.headers.cookie)
  if (person === undefined) return null
  const { email } = person
  refuseForeignOrigin(request, from.publicUrl)
  const memberships = await from.memberships.ofAddress(email)
  if (person.byLetter && memberships.some(({ role }) => role !== 'owner')) {
    // Whoever holds a forwarded letter must not come to work with a fleet by the promotion of its owner.
    throw unauthorized('a letter opens the pages of an owner and nothing else: sign in')
  }
  const membership = chosen(memberships, request, from.publicUrl)
  return { kind: 'person', email, person, memberships, actor: actorOf(email, membership) }
}

async function identifyKey(
  request: FastifyRequest,
  authorization: string,
  { apiKeys, keyGuesses }: Identifies,
): Promise<Identity> {
  const secret = /^Bearer +(\S+) *$/i.exec(authorization)?.[1]
  if (secret === undefined) throw unauthorized('Authorization must be "Bearer" and an API key')
  keyGuesses?.refuseGuessers(request, secret)
  const found = await apiKeys.actorOf(secret)
  if (found.state === 'valid') {
    keyGuesses?.wasRight(secret)
    return { kind: 'key', actor: found.actor, scope: found.scope }
  }
  await keyGuesses?.wasWrong(request, secret)
  throw unauthorized(found.state === 'unknown' ? 'the API key is not known' : `the API key ${STATES[found.state]}`)
}

const STATES = { expired: 'has expired', revoked: 'was revoked', renewed: 'has been replaced by a newer one' } as const

function chosen(memberships: readonly Membership[], request: FastifyRequest, publicUrl: string): Membership {
  const first = memberships[0]
  if (!first) throw new HttpProblem(403, 'this address belongs to no organisation any more')
  const header = request.headers['x-organisation']
  if (header !== undefined) {
    const asked = memberships.find((one) => one.organisationId === header)
    if (!asked) throw new HttpProblem(403, 'X-Organisation names no organisation of this person')
    return asked
  }
  // A cookie may outlive the membership it names: then it says nothing.
  const kept = request.cookies[organisationCookie(publicUrl).name]
  return memberships.find((one) => one.organisationId === kept) ?? first
}

function actorOf(email: string, membership: Membership): Actor {
  const { organisationId, role } = membership
  const actor = { organisationId, role, actor: `person:${email}` }
  return role === 'owner' ? { ...actor, ownerEmail: email } : actor
}
