import { z } from 'zod'
import { LANGUAGES } from '../messages/languages.js'

const LONGEST_ENDPOINT = 2000
/** An uncompressed point of P-256, and 16 bytes of shared secret (RFC 8291, 2), as base64url. */
const KEY = /^[\w-]{87}=?$/
const SECRET = /^[\w-]{22}(==)?$/

const SUBSCRIPTION_EXAMPLE = {
  endpoint: 'https://push.example.org/JzLQ3raZJfFBR0aqvOMsLrt54w4rJUsV',
  keys: {
    // RFC 8291, appendix A.
    p256dh: 'BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4',
    auth: 'BTBZMqHH6r4Tts7J_aSIgg',
  },
}

/** What a browser gives out when it subscribes (Push API, PushSubscriptionJSON). */
export const NewPushSubscription = z
  .strictObject({
    endpoint: z.url({ protocol: /^https?$/ }).max(LONGEST_ENDPOINT),
    expirationTime: z.number().nullish(),
    keys: z.strictObject({
      p256dh: z.string().regex(KEY, 'must be a public key of P-256 as base64url'),
      auth: z.string().regex(SECRET, 'must be 16 bytes as base64url'),
    }),
  })
  .meta({ id: 'NewPushSubscription', examples: [SUBSCRIPTION_EXAMPLE] })
export type NewPushSubscription = z.infer<typeof NewPushSubscription>

export const PushEndpoint = NewPushSubscription.pick({ endpoint: true }).meta({
  id: 'PushEndpoint',
  examples: [{ endpoint: SUBSCRIPTION_EXAMPLE.endpoint }],
})

export const PushTrial = PushEndpoint.extend({ language: z.enum(LANGUAGES) }).meta({
  id: 'PushTrial',
  examples: [{ endpoint: SUBSCRIPTION_EXAMPLE.endpoint, language: 'de' }],
})

export const PushOutcomeView = z
  .object({
    sent: z.int(),
    ended: z.int().meta({ description: 'Subscriptions that were over and are forgotten' }),
    failed: z.int(),
  })
  .meta({ id: 'PushOutcome', examples: [{ sent: 1, ended: 0, failed: 0 }] })

export const PushKey = z
  .object({ publicKey: z.string().meta({ description: 'applicationServerKey of the Push API (RFC 8292), base64url' }) })
  .meta({ id: 'PushKey', examples: [{ publicKey: SUBSCRIPTION_EXAMPLE.keys.p256dh }] })

/** What the service worker is handed, decrypted by the browser. */
export const PushContent = z.object({
  title: z.string(),
  body: z.string(),
  /** A path of the app. */
  path: z.string(),
  /** A later one of the same tag takes its place. */
  tag: z.string(),
  lang: z.string(),
})
export type PushContent = z.infer<typeof PushContent>
