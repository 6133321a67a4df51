import { eq } from 'drizzle-orm'
import { expect } from 'vitest'
import { authUsers, jobs, members, notices, passkeys } from '../../../src/db/schema/index.js'
import { FittedFleets } from '../../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../../src/services/model/refit.js'
import { createOrganisation } from '../../database/test-database.js'
import { jpegOf } from '../../services/photos/images.js'
import { type Ask, askAs } from '../ask.js'
import { faultyFleetFiles, LOSSES } from '../faulty-fleet.js'
import type { Credentials, TestServer } from '../server.js'

/** The day on which everything is tried. */
export const TODAY = '2026-06-15'

/** Whoever asks: by the key of a program, or as a person who signed in. */
export const ACTORS = [
  'key of an administrator',
  'key of a manager',
  'key of staff',
  'administrator',
  'manager',
  'staff',
  'owner',
  'owner of another boat',
] as const
export type ActorName = (typeof ACTORS)[number]

/** What an address of the service may be about. */
export const RESOURCES = [
  'organisation',
  'boat',
  'berth',
  'pontoon',
  'stay',
  'fitting',
  'position',
  'potential',
  'reading',
  'anode',
  'weighing',
  'haulOut',
  'photo',
  'finding',
  'member',
  'key',
  'job',
  'notice',
  'webhook',
  'delivery',
  'feed',
  'session',
  'passkey',
  'view',
  'ownerEmail',
] as const
export type Resource = (typeof RESOURCES)[number]

/** By which names a thing is called: its id, and for some a name that people gave it. */
export type Names = readonly [id: string, name?: string]

/** An organisation with one of everything. Each text in it holds its word, so that whatever gets out of it can be recognised. */
export interface Yard {
  readonly word: string
  readonly organisationId: string
  readonly credentials: Readonly<Record<ActorName, Credentials>>
  /** All that hangs on a boat hangs on that of the person "owner"; feed, session and passkey are theirs, the view is the manager's. */
  readonly things: Readonly<Record<Resource, Names>>
  /** What holders of the link alone may read, and answer. */
  readonly calendar: string
  readonly letter: string
}

/** Fills an organisation by the service's own doors. */
export async function fillYard(server: TestServer, word: string): Promise<Yard> {
  const { db } = server.database
  const { organisationId } = await createOrganisation(db, 'administrator', `${word} yard`)
  const address = (who: string) => `${who}@${word.toLowerCase()}.example`
  const invited = (['administrator', 'manager', 'staff'] as const).map((role) => ({
    organisationId,
    email: address(role),
    role,
  }))
  const rows = await db.insert(members).values(invited).returning()
  const keys = new Map<string, string>()
  const keyOf = async (role: 'administrator' | 'manager' | 'staff') => {
    const acting = { organisationId, role: 'administrator' as const, actor: 'test:set-up' }
    const key = await server.services.apiKeys.create(acting, { name: `${word} ${role}`, role })
    keys.set(role, key.id)
    return { authorization: `Bearer ${key.secret}` }
  }
  const administrator = await keyOf('administrator')
  const ask = askAs(server, administrator)
  await importFiles(server, administrator, filesOf(word))
  await new RefitService(server.database.service, new FittedFleets(), () => new Date(`${TODAY}T10:00:00Z`), 0).refit(
    organisationId,
    async () => {},
  )
  const credentials = {
    'key of an administrator': administrator,
    'key of a manager': await keyOf('manager'),
    'key of staff': await keyOf('staff'),
    administrator: await server.signIn(address('administrator')),
    manager: await server.signIn(address('manager')),
    staff: await server.signIn(address('staff')),
    owner: await server.signIn(address('owner')),
    'owner of another boat': await server.signIn(address('other')),
  }
  const owner = askAs(server, credentials.owner)
  const feed = await post(owner, '/v1/me/calendar-feeds', { scope: 'owner', language: 'en' })
  const things = {
    organisation: [organisationId] as const,
    ...(await thingsOfBoat(server, ask, word, administrator)),
    member: [rows.find(({ role }) => role === 'staff')!.id] as const,
    key: [keys.get('staff')!] as const,
    job: [await addJob(server, organisationId)] as const,
    ...(await noticeOf(server, ask)),
    ...(await webhookOf(ask, word)),
    feed: [feed.id] as const,
    session: [await secondSession(server, address('owner'), owner)] as const,
    passkey: [await passkeyOf(server, address('owner'))] as const,
    view: [
      (await post(askAs(server, credentials.manager), '/v1/desk/views', { name: `${word} view`, query: 'alloy=zinc' }))
        .id,
    ] as const,
    ownerEmail: [address('owner')] as const,
  }
  return {
    word,
    organisationId,
    credentials,
    things,
    calendar: new URL(feed.link).pathname.split('/').pop()!,
    letter: letterTo(server, address('owner')),
  }
}

/** The faulty fleet under names of this yard; its first boat is the owner's. */
function filesOf(word: string): Record<string, string> {
  const files = faultyFleetFiles(`owner@${word.toLowerCase()}.example`, LOSSES)
  const named = (text: string) =>
    text
      .replaceAll('Boat ', `${word} `)
      .replaceAll('other@example.org', `other@${word.toLowerCase()}.example`)
      .replaceAll('Somebody', `${word} owner`)
      .replaceAll(/\bN([1-4])\b/g, `${word} N$1`)
      .replaceAll(/,([NS]),salt/g, `,${word} $1,salt`)
      .replaceAll(/,(shaft|hull) (\d)/g, `,${word} $1 $2`)
  return Object.fromEntries(Object.entries(files).map(([name, text]) => [name, named(text)]))
}

async function importFiles(server: TestServer, credentials: Credentials, files: Record<string, string>) {
  const form = new FormData()
  for (const [name, text] of Object.entries(files)) form.append('file', new Blob([text]), name)
  await sendForm(server, '/v1/imports', credentials, form)
}

async function sendForm(server: TestServer, url: string, credentials: Credentials, form: FormData) {
  const { payload, headers } = await multipart(form)
  const answer = await server.app.inject({ method: 'POST', url, headers: { ...credentials, ...headers }, payload })
  expect(answer.statusCode, answer.body).toBeLessThan(300)
  return answer.json()
}

/** A form as it travels. */
export async function multipart(form: FormData): Promise<{ payload: Buffer; headers: Record<string, string> }> {
  const body = new Response(form)
  const headers = { 'content-type': body.headers.get('content-type') ?? '' }
  return { payload: Buffer.from(await body.arrayBuffer()), headers }
}

async function thingsOfBoat(server: TestServer, ask: Ask, word: string, credentials: Credentials) {
  const boat = encodeURIComponent(`${word} A`)
  const at = `/v1/boats/${boat}`
  const first = async (list: string) => {
    const { body } = await ask('GET', list)
    expect(body.items?.length, `${list} ${JSON.stringify(body)}`).toBeGreaterThan(0)
    return body.items[0]
  }
  const own = (await ask('GET', at)).body
  const stay = await first(`${at}/stays`)
  const anode = await first(`${at}/anodes`)
  const weighing = await first(`/v1/weighings?boat=${boat}`)
  const haulOut = await first(`${at}/haul-outs`)
  const fitting = await post(ask, `${at}/fittings`, { name: `${word} propeller` })
  const measuredAt = '2026-05-04T09:30:00Z'
  const potential = await post(ask, `${at}/potentials`, { measuredAt, reference: 'sce', volts: -0.9 })
  const reading = await post(ask, `${at}/continuity`, { measuredAt, from: `${word} propeller`, to: 'bond', ohms: 1 })
  const form = new FormData()
  form.append('photo', new Blob([new Uint8Array(await jpegOf(64, 48))]), `${word}.jpg`)
  const photos = await sendForm(server, `/v1/weighings/${weighing.id}/photos`, credentials, form)
  const berth = (await ask('GET', `/v1/berths/${encodeURIComponent(`${word} N1`)}`)).body
  return {
    boat: [own.id, `${word} A`] as const,
    berth: [berth.id, `${word} N1`] as const,
    pontoon: [`${word} N`] as const,
    stay: [stay.id] as const,
    anode: [anode.id, anode.name] as const,
    weighing: [weighing.id] as const,
    haulOut: [haulOut.id] as const,
    position: [(await first(`${at}/positions`)).id] as const,
    fitting: [fitting.id, `${word} propeller`] as const,
    potential: [potential.id] as const,
    reading: [reading.id] as const,
    photo: [photos.items[0].id] as const,
    finding: [(await first(`/v1/findings?boat=${boat}`)).id] as const,
  }
}

async function addJob(server: TestServer, organisationId: string): Promise<string> {
  const [job] = await server.database.db.insert(jobs).values({ organisationId, kind: 'refit' }).returning()
  return job!.id
}

async function noticeOf(server: TestServer, ask: Ask) {
  await ask('PATCH', '/v1/reminders', { enabled: true }, { 'if-match': (await ask('GET', '/v1/reminders')).etag })
  await server.services.noticeDecider.decideAll()
  while ((await server.services.noticeSender.deliverDue()) > 0);
  const { body } = await ask('GET', '/v1/notices')
  expect(body.items?.length, JSON.stringify(body)).toBeGreaterThan(0)
  // One that was given up can be sent again.
  await server.database.db.update(notices).set({ state: 'failed' }).where(eq(notices.id, body.items[0].id))
  return { notice: [body.items[0].id] as const }
}

async function webhookOf(ask: Ask, word: string) {
  const url = `https://${word.toLowerCase()}.example/in`
  const webhook = await post(ask, '/v1/webhooks', { name: `${word} office`, url, events: ['finding.opened'] })
  const delivery = await post(ask, `/v1/webhooks/${webhook.id}/trial`, {})
  return { webhook: [webhook.id] as const, delivery: [delivery.id] as const }
}

/** A second device: the first session is the one that asks. */
async function secondSession(server: TestServer, address: string, owner: Ask): Promise<string> {
  await server.signIn(address)
  const { body } = await owner('GET', '/v1/me/sessions')
  return body.items.find(({ current }: { current: boolean }) => !current).id
}

async function passkeyOf({ database: { db } }: TestServer, address: string): Promise<string> {
  const [user] = await db.select().from(authUsers).where(eq(authUsers.email, address))
  const row = { id: `passkey-of-${user!.id}`, userId: user!.id, publicKey: 'AAAA', counter: 0, transports: [] }
  await db.insert(passkeys).values(row)
  return row.id
}

function letterTo(server: TestServer, address: string): string {
  const letter = server.letters.find(({ to, text }) => to === address && /\/letters\/(?!open)\S+/.test(text))
  expect(letter, `a letter to ${address}`).toBeDefined()
  return letter!.text.match(/\/letters\/(?!open)(\S+)/)![1]!
}

async function post(ask: Ask, url: string, body: object) {
  const made = await ask('POST', url, body)
  expect(made.status, `${url} ${JSON.stringify(made.body)}`).toBeLessThan(300)
  return made.body
}
