import { CALCULATORS } from '../../../src/services/calculators/registry.js'
import { jpegOf } from '../../services/photos/images.js'
import { multipart, type Resource, TODAY } from './two-yards.js'

/** Takes a thing of the yard that is asked about; which ones a request takes is noted, and each is tried in turn. */
export type Pick = (resource: Resource, by?: 'name') => string

export interface Sent {
  readonly payload?: object | Buffer
  readonly headers?: Record<string, string>
}

/** How a change is asked for. */
export interface Change {
  readonly body: (pick: Pick) => Sent | Promise<Sent>
  /** What the query must say. */
  readonly query?: string
  /** It can be done once, and ends what others of this matrix stand on: tried here by those alone whom it must refuse. */
  readonly ends?: true
  /** It is about the person who asks: what a program is told that asks for it. */
  readonly refusesKeys?: 403 | 404
  /** It is about something of one's own that was not made here. */
  readonly findsNothing?: true
}

const json = (payload: object = {}): Sent => ({ payload })
const fixed = (payload?: object): Change => ({ body: () => json(payload) })
const form = async (name: string, file: Blob, fileName: string): Promise<Sent> => {
  const parts = new FormData()
  parts.append(name, file, fileName)
  return multipart(parts)
}
const photo: Change = {
  body: async () => form('photo', new Blob([new Uint8Array(await jpegOf(32, 24))]), 'bow.jpg'),
}
const letterOf = (text: string): Sent => ({
  payload: Buffer.from(text),
  headers: { 'content-type': 'message/rfc822' },
})
const LIFT_PLAN = { days: [{ on: '2026-07-01', places: 2 }] }
const PUSH = {
  endpoint: 'https://push.example.org/abc',
  keys: {
    p256dh: 'BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4',
    auth: 'BTBZMqHH6r4Tts7J_aSIgg',
  },
}
/** Answers of a device to a question that nobody asked. */
const CREDENTIAL = { id: 'AAAA', rawId: 'AAAA', type: 'public-key', clientExtensionResults: {} }
const PASSKEY = {
  ceremony: '7d1f7c52-3c5b-4f2e-9a53-0f5a6d5c2b11',
  made: { ...CREDENTIAL, response: { clientDataJSON: 'AAAA', attestationObject: 'AAAA' } },
  shown: { ...CREDENTIAL, response: { clientDataJSON: 'AAAA', authenticatorData: 'AAAA', signature: 'AAAA' } },
}

/**
 * Every change under /v1, with a body that gets as far as the thing it is about: a new route stands here, or the matrix fails. Changes that
 * need If-Match are sent with a version that nothing has, so that what is there stays.
 */
export const CHANGES: Readonly<Record<string, Change>> = {
  'POST /v1/auth/sign-in/magic-link': fixed({ email: 'nobody@example.org' }),
  'POST /v1/auth/magic-link/verify': fixed({ token: 'no-token' }),
  'POST /v1/auth/sign-out': { ...fixed(), ends: true },
  'POST /v1/set-up': fixed({ token: 'no-token', organisationName: 'New yard', email: 'new@example.org' }),
  'POST /v1/me/organisation': { body: (pick) => json({ organisationId: pick('organisation') }), refusesKeys: 403 },
  'PATCH /v1/me/preferences': { ...fixed({ massUnit: 'g' }), refusesKeys: 404 },
  'DELETE /v1/me/sessions/:session': { ...fixed(), ends: true },
  'POST /v1/me/passkeys/question': { ...fixed(), refusesKeys: 404 },
  'POST /v1/me/passkeys': { ...fixed({ ceremony: PASSKEY.ceremony, answer: PASSKEY.made }), refusesKeys: 404 },
  'DELETE /v1/me/passkeys/:passkey': { ...fixed(), ends: true },
  'POST /v1/auth/passkey/question': fixed(),
  'POST /v1/auth/passkey': fixed({ ceremony: PASSKEY.ceremony, answer: PASSKEY.shown }),
  'POST /v1/me/sessions/end': { ...fixed({ which: 'others' }), ends: true },
  'PATCH /v1/organisation': fixed({ wastingThreshold: 0.5 }),
  'POST /v1/members': fixed({ email: 'invited@example.org', role: 'staff' }),
  'PATCH /v1/members/:id': fixed({ role: 'staff' }),
  'DELETE /v1/members/:id': fixed(),
  'POST /v1/people/data': fixed({ email: 'nobody@example.org' }),
  'POST /v1/people/forget': fixed({ email: 'nobody@example.org', confirm: 'nobody@example.org' }),
  'POST /v1/api-keys': fixed({ name: 'Another', role: 'staff' }),
  'POST /v1/api-keys/:id/secret': fixed({ overlapHours: 1 }),
  'DELETE /v1/api-keys/:id': fixed(),
  'POST /v1/me/calendar-feeds': { ...fixed({ scope: 'owner', language: 'en' }), refusesKeys: 404 },
  'POST /v1/me/calendar-feeds/:feed/link': fixed(),
  'DELETE /v1/me/calendar-feeds/:feed': fixed(),
  'PATCH /v1/reminders': fixed({ leadDays: 50 }),
  'POST /v1/notices/trial': { body: (pick) => json({ boat: pick('boat') }), refusesKeys: 403 },
  'POST /v1/notices/:notice/retry': { ...fixed(), ends: true },
  'POST /v1/notices/returned': { body: () => letterOf('From: a@example.org\r\nTo: b@example.org\r\n\r\nback') },
  'POST /v1/letters/:token': fixed({ action: 'snooze', until: '2026-07-01' }),
  'POST /v1/letters/:token/open': { ...fixed(), ends: true },
  'POST /v1/letters/:token/unsubscribe': {
    body: () => ({
      payload: Buffer.from('List-Unsubscribe=One-Click'),
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    }),
    ends: true,
  },
  'POST /v1/me/push-subscriptions': { ...fixed(PUSH), refusesKeys: 404 },
  'POST /v1/me/push-subscriptions/end': { ...fixed({ endpoint: PUSH.endpoint }), refusesKeys: 404 },
  'POST /v1/me/push-subscriptions/trial': {
    ...fixed({ endpoint: `${PUSH.endpoint}/other`, language: 'en' }),
    findsNothing: true,
  },
  'POST /v1/webhooks': fixed({ name: 'Other', url: 'https://other.example.org/in', events: ['finding.opened'] }),
  'PATCH /v1/webhooks/:webhook': fixed({ name: 'Renamed' }),
  'DELETE /v1/webhooks/:webhook': fixed(),
  'POST /v1/webhooks/:webhook/secret': fixed(),
  'POST /v1/webhooks/:webhook/trial': fixed(),
  'POST /v1/webhooks/:webhook/deliveries/:delivery/replay': fixed(),
  'POST /v1/boats': fixed({ name: 'Another boat' }),
  'PATCH /v1/boats/:boat': fixed({ hull: 'grp' }),
  'DELETE /v1/boats/:boat': fixed(),
  'POST /v1/berths': fixed({ name: 'Another berth' }),
  'PATCH /v1/berths/:berth': fixed({ water: 'salt' }),
  'DELETE /v1/berths/:berth': fixed(),
  'PUT /v1/pontoons/drawing': fixed({ pontoons: [] }),
  'POST /v1/boats/:boat/stays': { body: (pick) => json({ berth: pick('berth'), fromOn: '2026-06-01' }) },
  'PATCH /v1/stays/:stay': { body: (pick) => json({ berth: pick('berth') }) },
  'DELETE /v1/stays/:stay': fixed(),
  'POST /v1/boats/:boat/fittings': fixed({ name: 'rudder' }),
  'PATCH /v1/boats/:boat/fittings/:fitting': fixed({ coated: true }),
  'DELETE /v1/boats/:boat/fittings/:fitting': fixed(),
  'PATCH /v1/boats/:boat/positions/:position': fixed({ wastingThreshold: 0.4 }),
  'POST /v1/boats/:boat/potentials': {
    body: (pick) =>
      json({ measuredAt: '2026-05-05T09:30:00Z', reference: 'sce', volts: -0.9, fitting: pick('fitting') }),
  },
  'PATCH /v1/potentials/:potential': fixed({ volts: -0.8 }),
  'DELETE /v1/potentials/:potential': fixed(),
  'POST /v1/boats/:boat/continuity': {
    body: (pick) => json({ measuredAt: '2026-05-05T09:30:00Z', from: pick('fitting', 'name'), to: 'bond', ohms: 1 }),
  },
  'PATCH /v1/continuity/:reading': fixed({ ohms: 2 }),
  'DELETE /v1/continuity/:reading': fixed(),
  'POST /v1/boats/:boat/anodes': fixed({ name: 'rudder 1', position: 'rudder', fittedOn: '2026-05-01' }),
  'PATCH /v1/boats/:boat/anodes/:anode': fixed({ bonded: true }),
  'POST /v1/boats/:boat/anodes/:anode/removal': fixed({ removedOn: TODAY }),
  'DELETE /v1/boats/:boat/anodes/:anode': fixed(),
  'POST /v1/boats/:boat/anodes/:anode/weighings': fixed({ weighedOn: TODAY, massG: 500 }),
  'PATCH /v1/weighings/:weighing': fixed({ massG: 600, reason: 'misread' }),
  'DELETE /v1/weighings/:weighing': { ...fixed(), query: 'reason=twice' },
  'POST /v1/boats/:boat/haul-outs': {
    body: (pick) => json({ hauledOn: '2026-06-02', weighings: [{ anode: pick('anode'), massG: 500 }] }),
  },
  'PATCH /v1/haul-outs/:haulOut': fixed({ note: 'seen' }),
  'DELETE /v1/haul-outs/:haulOut': fixed(),
  'POST /v1/planned-lifts': { body: (pick) => json({ lifts: [{ boat: pick('boat'), on: '2026-10-01' }] }) },
  'POST /v1/planned-lifts/remove': { body: (pick) => json({ lifts: [{ id: pick('haulOut'), version: 999 }] }) },
  'POST /v1/weighings/:weighing/photos': photo,
  'POST /v1/haul-outs/:haulOut/photos': photo,
  'DELETE /v1/photos/:photo': fixed(),
  'POST /v1/imports': { body: () => form('file', new Blob(['boat\nAnother boat\n']), 'boats.csv') },
  'POST /v1/boats/:boat/what-if': {
    body: (pick) => json({ stays: [{ fromOn: '2026-07-01', toOn: null, berth: pick('berth') }] }),
  },
  'POST /v1/findings/:finding/acknowledge': fixed({ note: 'seen' }),
  'POST /v1/findings/:finding/checks': fixed({ check: 'measure-contact', outcome: 'unclear', on: TODAY }),
  'POST /v1/findings/:finding/resolve': fixed({ text: 'renewed', on: TODAY, cause: 'stray-current-onboard' }),
  'POST /v1/findings/:finding/reopen': fixed({ note: 'it is back' }),
  'POST /v1/desk/lift-plan': fixed(LIFT_PLAN),
  'POST /v1/desk/lift-plan.csv': fixed(LIFT_PLAN),
  'PUT /v1/prices': fixed({ currency: 'EUR', prices: [] }),
  'POST /v1/desk/views': fixed({ name: 'Another view', query: 'alloy=zinc' }),
  'PATCH /v1/desk/views/:view': fixed({ name: 'Renamed' }),
  'DELETE /v1/desk/views/:view': fixed(),
  ...Object.fromEntries(
    CALCULATORS.map(({ name, example }) => [`POST /v1/calculators/${name}`, fixed(example as object)]),
  ),
}

/** What each parameter of a path is about; `id` says so by what stands before it. */
const PARAMETERS: Readonly<Record<string, Resource>> = {
  boat: 'boat',
  berth: 'berth',
  stay: 'stay',
  fitting: 'fitting',
  position: 'position',
  potential: 'potential',
  reading: 'reading',
  anode: 'anode',
  weighing: 'weighing',
  haulOut: 'haulOut',
  photo: 'photo',
  finding: 'finding',
  notice: 'notice',
  webhook: 'webhook',
  delivery: 'delivery',
  feed: 'feed',
  session: 'session',
  passkey: 'passkey',
  view: 'view',
  'members/:id': 'member',
  'api-keys/:id': 'key',
  'jobs/:id': 'job',
}
/** Parameters that are the same everywhere, and links that are themselves the key to what they lead to. */
const FIXED: Readonly<Record<string, string>> = { 'exports/:file': 'boats.csv', 'reference/:table': 'current-demand' }
const LINKS: Readonly<Record<string, 'calendar' | 'letter'>> = {
  'calendars/:file': 'calendar',
  'letters/:token': 'letter',
}

/** Which of the parameters of queries name a thing; the others are days, words, orders and sizes. */
export const FILTERS: Readonly<Record<string, Resource | 'names nothing'>> = {
  boat: 'boat',
  berth: 'berth',
  pontoon: 'pontoon',
  owner: 'ownerEmail',
  fitting: 'fitting',
  anode: 'anode',
  weighing: 'weighing',
  haulOut: 'haulOut',
  row: 'weighing',
  q: 'boat',
  text: 'boat',
  ...Object.fromEntries(
    (
      'token callbackURL errorCallbackURL limit cursor table sort state days water hull from to metal alloy positionKind inPlaceOn method ' +
      'reason planned size dryRun confirm asOf dueBefore language cause direction evidence position riskAbove openFindings periods by until risk'
    )
      .split(' ')
      .map((name) => [name, 'names nothing' as const]),
  ),
}

export type Segment =
  | { readonly text: string }
  | { readonly resource: Resource }
  | { readonly link: 'calendar' | 'letter' }

/** The steps of a path. @throws Error for a parameter that nobody has entered above */
export function segmentsOf(url: string): Segment[] {
  const steps = url.split('/')
  return steps.map((step, index) => {
    if (!step.startsWith(':')) return { text: step }
    const inPlace = `${steps[index - 1]}/${step}`
    const resource = PARAMETERS[inPlace] ?? PARAMETERS[step.slice(1)]
    if (resource !== undefined) return { resource }
    if (FIXED[inPlace] !== undefined) return { text: FIXED[inPlace] }
    if (LINKS[inPlace] !== undefined) return { link: LINKS[inPlace] }
    throw new Error(`${url}: what is ${step} about? Enter it in tests/http/access-matrix/entries.ts`)
  })
}
