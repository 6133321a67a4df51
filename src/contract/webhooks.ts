import { z } from 'zod'
import { pageOf, pageQuery } from './paging.js'

/** What a marina's own system may be told of. */
export const WEBHOOK_EVENTS = [
  'haul-out.recorded',
  'haul-out.changed',
  'haul-out.deleted',
  'forecast.issued',
  'forecast.moved',
  'finding.opened',
  'finding.changed',
  'notice.sent',
] as const
export type WebhookEvent = (typeof WEBHOOK_EVENTS)[number]

/** Sent when somebody asks for it, to an endpoint of any choice of events. */
export const WEBHOOK_TRIAL = 'trial'

export const DELIVERY_STATES = ['waiting', 'delivered', 'failed'] as const
export type DeliveryState = (typeof DELIVERY_STATES)[number]

const LONGEST_URL = 2000
const LONGEST_NAME = 100

const Name = z.string().trim().min(1).max(LONGEST_NAME)
const Url = z
  .string()
  .trim()
  .max(LONGEST_URL)
  .refine((text) => URL.canParse(text) && /^https?:$/.test(new URL(text).protocol), 'must be an http or https address')
  .refine((text) => {
    if (!URL.canParse(text)) return true
    const { username, password } = new URL(text)
    return username === '' && password === ''
  }, 'must hold no user name or password: what is sent is signed instead')
  .meta({ examples: ['https://office.example.org/anodes'] })
const Events = z
  .array(z.enum(WEBHOOK_EVENTS))
  .min(1)
  .max(WEBHOOK_EVENTS.length)
  .transform((events) => [...new Set(events)])
  .meta({ examples: [['haul-out.recorded', 'finding.opened']] })

export const NewWebhook = z.strictObject({ name: Name, url: Url, events: Events }).meta({
  id: 'NewWebhook',
  examples: [{ name: 'Office', url: 'https://office.example.org/anodes', events: ['haul-out.recorded'] }],
})
export type NewWebhook = z.infer<typeof NewWebhook>

export const WebhookChange = z
  .strictObject({ name: Name, url: Url, events: Events, enabled: z.boolean() })
  .partial()
  .meta({ id: 'WebhookChange', examples: [{ enabled: true }] })
export type WebhookChange = z.infer<typeof WebhookChange>

const InstantOrNull = z.iso.datetime().nullable()

const WEBHOOK_EXAMPLE = {
  id: '5b0d4a60-0f0c-4a8e-9a5c-0d7f5d3a2c11',
  name: 'Office',
  url: 'https://office.example.org/anodes',
  events: ['haul-out.recorded' as const],
  enabled: true,
  disabledBecause: null,
  failingSince: null,
  previousSecretUntil: null,
  createdAt: '2031-04-18T09:30:00.000Z',
  version: 1,
}

export const WebhookView = z
  .object({
    id: z.uuid(),
    name: z.string(),
    url: z.string(),
    events: z.array(z.enum(WEBHOOK_EVENTS)),
    enabled: z.boolean(),
    disabledBecause: z
      .enum(['person', 'failed-too-long', 'gone'])
      .nullable()
      .meta({ description: 'gone: it answered 410; null while enabled' }),
    failingSince: InstantOrNull.meta({ description: 'The first failure since the last delivery that arrived' }),
    previousSecretUntil: InstantOrNull.meta({ description: 'Until then the secret before this one signs too' }),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({ id: 'Webhook', examples: [WEBHOOK_EXAMPLE] })
export type WebhookView = z.infer<typeof WebhookView>

const Secret = z.string().meta({ description: 'Signs what is sent: shown this once (null in a replay)' })
const EXAMPLE_SECRET = { secret: 'whsec_Zm9yIHRoZSBleGFtcGxlIG9ubHksIDMyIGJ5dGVzIQ==' }

export const WebhookWithSecret = WebhookView.extend({ secret: Secret }).meta({
  id: 'WebhookWithSecret',
  examples: [{ ...WEBHOOK_EXAMPLE, ...EXAMPLE_SECRET }],
})
export type WebhookWithSecret = z.infer<typeof WebhookWithSecret>

export const WebhookQuery = pageQuery(['createdAt', 'name'])
export type WebhookQuery = z.infer<typeof WebhookQuery>
export const WebhookPage = pageOf(WebhookView)
export const WebhookParams = z.object({ webhook: z.uuid() })
export const DeliveryParams = z.object({ webhook: z.uuid(), delivery: z.uuid() })

const ATTEMPT_EXAMPLE = {
  at: '2031-04-18T09:30:01.000Z',
  durationMs: 84,
  answered: 200,
  answerStart: 'ok',
  failure: null,
}

const Attempt = z.object({
  at: z.iso.datetime(),
  durationMs: z.int(),
  answered: z.int().nullable().meta({ description: 'Status of the answer; null where none came' }),
  answerStart: z.string().nullable().meta({ description: 'How the answer begins' }),
  failure: z.string().nullable().meta({ description: 'Why it did not count as delivered' }),
})

export const DeliveryView = z
  .object({
    id: z.uuid(),
    eventId: z.uuid().meta({ description: 'webhook-id of what was sent: the same in every attempt and replay' }),
    event: z.string(),
    occurredAt: z.iso.datetime(),
    state: z.enum(DELIVERY_STATES),
    attempts: z.int(),
    nextAttemptAt: InstantOrNull,
    lastAttempt: Attempt.nullable(),
  })
  .meta({
    id: 'WebhookDelivery',
    examples: [
      {
        id: '8f0f1f52-6d8e-4a5b-8c86-5b1c0f6f2c7e',
        eventId: '0c0d1f52-6d8e-4a5b-8c86-5b1c0f6f2c7e',
        event: 'haul-out.recorded',
        occurredAt: '2031-04-18T09:30:00.000Z',
        state: 'delivered',
        attempts: 1,
        nextAttemptAt: null,
        lastAttempt: ATTEMPT_EXAMPLE,
      },
    ],
  })
export type DeliveryView = z.infer<typeof DeliveryView>

export const DeliveryQuery = pageQuery(['createdAt']).extend({
  sort: z.enum(['-createdAt', 'createdAt']).default('-createdAt').meta({ description: 'The newest first' }),
  state: z.enum(DELIVERY_STATES).optional(),
})
export type DeliveryQuery = z.infer<typeof DeliveryQuery>
export const DeliveryPage = pageOf(DeliveryView)

export const DeliveryDetail = DeliveryView.extend({
  body: z.string().meta({ description: 'What is sent, as it is signed' }),
  history: z.array(Attempt).meta({ description: 'Every attempt, oldest first' }),
}).meta({ id: 'WebhookDeliveryDetail' })
export type DeliveryDetail = z.infer<typeof DeliveryDetail>
