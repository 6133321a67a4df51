import { z } from 'zod'
import { pageOf, pageQuery } from './paging.js'
import { ROLES } from './vocabulary.js'

/** Roles that a program may have: an owner is a person. */
export const KEY_ROLES = ['administrator', 'staff', 'manager'] as const

/**
 * What of its role's permissions a key has: all; reading alone; reading and what is logged at a lift, photos as well; handing in CSV files and
 * nothing else.
 */
export const KEY_SCOPES = ['all', 'read', 'lift', 'import'] as const
export type KeyScope = (typeof KEY_SCOPES)[number]

export const Email = z
  .email()
  .max(254)
  .toLowerCase()
  .meta({ examples: ['ada@example.org'] })

const Name = z.string().trim().min(1).max(100)

const instantOrNull = z.iso.datetime().nullable()

const SCOPE_MEANS =
  'What of its role it may do: `all`; `read` alone; `lift`: read, log haul-outs, weighings, readings and photos; `import`: hand in CSV files'

export const ApiKeyRequest = z
  .strictObject({
    name: Name.meta({ examples: ['Lift phone'] }),
    role: z.enum(KEY_ROLES),
    scope: z.enum(KEY_SCOPES).default('all').meta({ description: SCOPE_MEANS }),
    expiresAt: z.iso.datetime().optional().meta({ description: 'Never, when left out' }),
  })
  .meta({ id: 'ApiKeyRequest' })
export type ApiKeyRequest = z.infer<typeof ApiKeyRequest>

export const ApiKeyView = z
  .object({
    id: z.uuid(),
    name: z.string(),
    role: z.enum(KEY_ROLES),
    scope: z.enum(KEY_SCOPES).meta({ description: SCOPE_MEANS }),
    prefix: z.string().meta({ description: 'First characters of the key, to tell keys apart' }),
    createdAt: z.iso.datetime(),
    secretMadeAt: z.iso.datetime().meta({ description: 'When the present secret was made' }),
    previousSecret: z
      .object({ prefix: z.string(), until: z.iso.datetime(), lastUsedAt: instantOrNull })
      .nullable()
      .meta({ description: 'The secret before it, while it still opens' }),
    expiresAt: instantOrNull,
    lastUsedAt: instantOrNull.meta({ description: 'To the minute' }),
    revokedAt: instantOrNull,
    version: z.int(),
  })
  .meta({ id: 'ApiKey' })
export type ApiKeyView = z.infer<typeof ApiKeyView>

export const ApiKeyCreated = ApiKeyView.extend({
  secret: z.string().meta({ description: 'The key itself: shown this once (null in a replay), only its hash is kept' }),
}).meta({ id: 'ApiKeyCreated' })
export type ApiKeyCreated = z.infer<typeof ApiKeyCreated>

/** A week at most: whoever has an old secret for longer has not changed over. */
const MOST_OVERLAP_HOURS = 7 * 24
export const SecretRenewal = z
  .strictObject({
    overlapHours: z.number().min(0).max(MOST_OVERLAP_HOURS).default(24).meta({
      description: 'How long the secret before it still opens [h]; 0: no longer, as when it got into wrong hands',
    }),
  })
  .meta({ id: 'SecretRenewal', examples: [{ overlapHours: 24 }] })
export type SecretRenewal = z.infer<typeof SecretRenewal>

export const ApiKeyQuery = pageQuery(['createdAt', 'name'])
export type ApiKeyQuery = z.infer<typeof ApiKeyQuery>
export const ApiKeyPage = pageOf(ApiKeyView)

/** A path of this service, so that nobody can be sent to another site by a letter from here. */
const LocalPath = z
  .string()
  .max(500)
  .regex(/^\/(?![/\\])[^\s\\]*$/, 'must be a path of this service, such as /boats')

export const LinkRequest = z
  .strictObject({
    email: Email,
    callbackURL: LocalPath.optional().meta({ description: 'The page to open once signed in', examples: ['/boats'] }),
  })
  .meta({ id: 'LinkRequest' })

export const LinkQuery = z.object({
  token: z.string().min(1).max(200),
  callbackURL: LocalPath.optional(),
  errorCallbackURL: LocalPath.optional(),
})

export const FollowLink = z
  .strictObject({
    token: LinkQuery.shape.token,
    callbackURL: LocalPath.optional().meta({ description: 'The page to open once signed in', examples: ['/boats'] }),
  })
  .meta({ id: 'FollowLink', examples: [{ token: 'the token of the letter’s link' }] })

export const LinkFollowed = z
  .object({ page: LocalPath.meta({ description: 'Where to go from here' }) })
  .meta({ id: 'LinkFollowed', examples: [{ page: '/' }] })

/** An organisation that a person may act in. */
export const MembershipView = z
  .object({ organisationId: z.uuid(), organisation: z.string(), role: z.enum(ROLES) })
  .meta({ id: 'Membership' })
export type MembershipView = z.infer<typeof MembershipView>

const SESSION_EXAMPLE = {
  id: 'Jx0tH2mU6mJ0mE3u1wqk1sQmC1a9tK7b',
  browser: 'Firefox',
  system: 'Android',
  signedInAt: '2031-04-18T09:30:00.000Z',
  lastUsedAt: '2031-04-20T07:12:00.000Z',
  expiresAt: '2031-05-20T07:12:00.000Z',
  current: true,
}

/** One device on which a person is signed in. */
export const SessionView = z
  .object({
    id: z.string(),
    browser: z.string().nullable().meta({ description: 'As it gave itself out; null where it did not say' }),
    system: z.string().nullable(),
    signedInAt: z.iso.datetime(),
    lastUsedAt: z.iso.datetime().meta({ description: 'To the day' }),
    expiresAt: z.iso.datetime(),
    current: z.boolean().meta({ description: 'The session that asks' }),
  })
  .meta({ id: 'Session', examples: [SESSION_EXAMPLE] })
export type SessionView = z.infer<typeof SessionView>

export const SessionList = z
  .object({ items: z.array(SessionView) })
  .meta({ id: 'SessionList', description: 'The one used last comes first', examples: [{ items: [SESSION_EXAMPLE] }] })

export const SessionParams = z.object({ session: z.string().min(1).max(100) })

export const SessionsToEnd = z
  .strictObject({ which: z.enum(['all', 'others']).meta({ description: '`others`: all but the one that asks' }) })
  .meta({ id: 'SessionsToEnd', examples: [{ which: 'others' }] })
export type SessionsToEnd = z.infer<typeof SessionsToEnd>
