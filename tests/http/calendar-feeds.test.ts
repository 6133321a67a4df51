import ICAL from 'ical.js'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { members } from '../../src/db/schema/index.js'
import { loggerOptions } from '../../src/log.js'
import { type Ask, askAs, basedOn } from './ask.js'
import { expectProblem } from './problem-schema.js'
import { type Credentials, startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

const NASTY = 'Möwe; "Ann", \\n & <b>'
let server: TestServer
let now = new Date('2026-06-15T12:00:00Z')
let owner: Ask
let staff: Ask
let staffPerson: Credentials
let program: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  await importFleet(server, fleetFiles(server.ownerEmail))
  owner = askAs(server, await server.actorOf('owner'))
  program = askAs(server, await server.actorOf('staff'))
  staffPerson = await server.signIn('staff@example.org')
  staff = askAs(server, staffPerson)
})
afterAll(() => server.close())
beforeEach(() => {
  now = new Date('2026-06-15T12:00:00Z')
})

const make = async (ask: Ask, scope: string, language = 'en'): Promise<string> => {
  const made = await ask('POST', '/v1/me/calendar-feeds', { scope, language })
  expect(made.status, JSON.stringify(made.body)).toBe(201)
  return made.body.link
}
const fetchLink = (link: string, headers: Record<string, string> = {}) =>
  server.app.inject({ method: 'GET', url: new URL(link).pathname, headers })

interface Read {
  readonly uid: string
  readonly summary: string
  readonly description: string
  readonly start: string
  readonly sequence: number
  readonly status: string
}

/** Read by another library: npm ical.js 2.2.1. */
async function eventsOf(link: string): Promise<Read[]> {
  const answer = await fetchLink(link)
  expect(answer.statusCode, answer.body).toBe(200)
  expect(answer.headers['content-type']).toBe('text/calendar; charset=utf-8')
  const calendar = new ICAL.Component(ICAL.parse(answer.body))
  return calendar.getAllSubcomponents('vevent').map((component) => {
    const event = new ICAL.Event(component)
    expect(event.startDate.isDate).toBe(true)
    return {
      uid: event.uid,
      summary: event.summary,
      description: event.description,
      start: event.startDate.toString(),
      sequence: event.sequence,
      status: String(component.getFirstPropertyValue('status')),
    }
  })
}
const sequences = (events: readonly Read[]) => new Map(events.map(({ uid, sequence }) => [uid, sequence]))

describe('a calendar', () => {
  it('of an owner has when the anodes of their boat are due, with the band, and its planned lift', async () => {
    const events = await eventsOf(await make(owner, 'owner'))
    const { items } = (await owner('GET', '/v1/forecasts')).body
    expect(items.length).toBe(2)
    for (const { boat, position, recommendedOn, replace } of items) {
      const event = events.find(({ summary }) => summary.includes(boat) && summary.includes(position))
      expect(event!.start).toBe(recommendedOn)
      const year = replace.p90.slice(0, 4)
      expect(event!.description).toMatch(new RegExp(`8 of 10 such anodes are due between .+ and .+ ${year}`))
    }
    const lift = events.find(({ summary }) => summary === 'Boat A: lift')
    expect(lift!.start).toBe('2026-09-01')
    expect(events).toHaveLength(3)
    expect(events.every(({ summary }) => summary.startsWith('Boat A'))).toBe(true)
  })

  it('of the fleet has all boats, of the yard the lifts alone, with what to replace', async () => {
    const fleet = await eventsOf(await make(staff, 'fleet'))
    expect(fleet.filter(({ uid }) => uid.startsWith('due-'))).toHaveLength(24)
    const yard = await eventsOf(await make(staff, 'yard'))
    expect(yard.map(({ summary, start }) => `${summary} ${start}`)).toEqual(['Boat A: lift 2026-09-01'])
    const { items } = (await staff('GET', '/v1/forecasts?boat=Boat%20A')).body
    // There is one lift ahead: whatever is due by then is replaced there, late or not.
    for (const { anode, recommendedOn } of items) {
      expect(yard[0]!.description.includes(anode)).toBe(recommendedOn <= '2026-09-01')
    }
  })

  it.each([
    ['de', 'Anode', 'von 10 solchen Anoden'],
    ['fr', 'anode', 'anodes semblables sur 10'],
    ['es', 'ánodo', 'de cada 10 ánodos'],
  ])('speaks %s', async (language, word, band) => {
    const events = await eventsOf(await make(owner, 'owner', language))
    const due = events.find(({ uid }) => uid.startsWith('due-'))
    expect(due!.summary).toContain(word)
    expect(due!.description).toContain(band)
  })

  it('is the same text, under the same tag, until something changes', async () => {
    const link = await make(staff, 'fleet')
    const first = await fetchLink(link)
    now = new Date('2026-06-15T18:00:00Z')
    const second = await fetchLink(link)
    expect(second.body).toBe(first.body)
    expect(second.headers.etag).toBe(first.headers.etag)
    const unchanged = await fetchLink(link, { 'if-none-match': String(first.headers.etag) })
    expect([unchanged.statusCode, unchanged.body]).toEqual([304, ''])
  })

  it('raises the sequence of the lift that moved, and calls off the one that was dropped', async () => {
    const link = await make(staff, 'yard')
    const planned = await staff('POST', '/v1/boats/Boat%20B/haul-outs', { hauledOn: '2026-08-03', planned: true })
    const before = await eventsOf(link)
    const moved = await staff('PATCH', `/v1/haul-outs/${planned.body.id}`, { hauledOn: '2026-08-10' }, basedOn(planned))
    expect(moved.status, JSON.stringify(moved.body)).toBe(200)
    const after = await eventsOf(link)
    const uid = `lift-${planned.body.id}@anode-ledger`
    expect(after.find((event) => event.uid === uid)).toMatchObject({ start: '2026-08-10', status: 'CONFIRMED' })
    expect(sequences(after).get(uid)! - sequences(before).get(uid)!).toBe(1)
    for (const [other, sequence] of sequences(before))
      if (other !== uid) expect(sequences(after).get(other)).toBe(sequence)
    await staff('DELETE', `/v1/haul-outs/${planned.body.id}`, undefined, basedOn(moved))
    const dropped = (await eventsOf(link)).find((event) => event.uid === uid)
    expect(dropped).toMatchObject({ status: 'CANCELLED', sequence: sequences(after).get(uid)! + 1 })
  })

  it('calls off the due date of an anode that was replaced', async () => {
    const link = await make(staff, 'fleet')
    const before = await eventsOf(link)
    const logged = await staff('POST', '/v1/boats/Boat%20C/haul-outs', {
      hauledOn: '2026-06-14',
      weighings: [{ anode: 'hull 3', massG: 600, cleaned: true, replacedBy: { alloy: 'zinc', grossMassG: 1080 } }],
    })
    expect(logged.status, JSON.stringify(logged.body)).toBe(201)
    const after = await eventsOf(link)
    const cancelled = after.filter(({ status }) => status === 'CANCELLED')
    expect(cancelled).toHaveLength(1)
    expect(cancelled[0]).toMatchObject({ summary: 'Boat C: replace anode, hull', sequence: 1 })
    const uids = new Set(before.map(({ uid }) => uid))
    expect(after.filter(({ uid, summary }) => summary.startsWith('Boat C') && !uids.has(uid))).toHaveLength(1)
  })

  it('holds names that would break a line or a list', async () => {
    const boat = (await staff('GET', '/v1/boats/Boat%20D')) as Awaited<ReturnType<Ask>>
    expect((await staff('PATCH', '/v1/boats/Boat%20D', { name: NASTY }, basedOn(boat))).status).toBe(200)
    const events = await eventsOf(await make(staff, 'fleet'))
    expect(events.filter(({ summary }) => summary.startsWith(`${NASTY}: `))).toHaveLength(2)
  })

  it('given to two programs at once is one publication', async () => {
    const link = await make(staff, 'fleet')
    const answers = await Promise.all([fetchLink(link), fetchLink(link), fetchLink(link)])
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([200, 200, 200])
    expect(new Set(answers.map(({ body }) => body)).size).toBe(1)
  })
})

describe('a private link', () => {
  it('is shown once, and opens nothing when it is renewed or revoked', async () => {
    const link = await make(owner, 'owner')
    const { items } = (await owner('GET', '/v1/me/calendar-feeds')).body
    const feed = items.at(-1)
    expect(JSON.stringify(items)).not.toContain(new URL(link).pathname.split('/').at(-1)!.slice(0, 20))
    const before = await eventsOf(link)
    const path = `/v1/me/calendar-feeds/${feed.id}`
    const renewed = await owner('POST', `${path}/link`, undefined, { 'if-match': `"${feed.version}"` })
    expect(renewed.status).toBe(200)
    expect(renewed.body.link).not.toBe(link)
    expectProblem(await fetchLink(link), 404)
    expect(await eventsOf(renewed.body.link)).toEqual(before)
    expect((await owner('DELETE', path, undefined, basedOn(renewed))).status).toBe(204)
    expectProblem(await fetchLink(renewed.body.link), 404)
    expect((await owner('GET', '/v1/me/calendar-feeds')).body.items.map(({ id }: { id: string }) => id)).not.toContain(
      feed.id,
    )
  })

  it('ends with the membership that it is from', async () => {
    await server.database.db
      .insert(members)
      .values({ organisationId: server.organisationId, email: 'leaver@example.org', role: 'staff' })
    const leaver = askAs(server, await server.signIn('leaver@example.org'))
    const link = await make(leaver, 'fleet')
    expect((await fetchLink(link)).statusCode).toBe(200)
    const manager = askAs(server, await server.actorOf('administrator'))
    const { items } = (await manager('GET', '/v1/members')).body
    const member = items.find(({ email }: { email: string }) => email === 'leaver@example.org')
    const read = await manager('GET', `/v1/members/${member.id}`)
    const etag = read.status === 200 ? read.etag : `"${member.version}"`
    expect((await manager('DELETE', `/v1/members/${member.id}`, undefined, { 'if-match': etag })).status).toBe(204)
    expectProblem(await fetchLink(link), 404)
  })

  it('lets an owner see no other boat, and nobody else’s link be touched', async () => {
    const refused = await owner('POST', '/v1/me/calendar-feeds', { scope: 'fleet', language: 'en' })
    expect(refused.status).toBe(422)
    expect(refused.body.errors[0].pointer).toBe('#/scope')
    await make(staff, 'yard')
    const feed = (await staff('GET', '/v1/me/calendar-feeds')).body.items[0]
    const match = { 'if-match': `"${feed.version}"` }
    expect((await owner('DELETE', `/v1/me/calendar-feeds/${feed.id}`, undefined, match)).status).toBe(404)
    expect((await program('DELETE', `/v1/me/calendar-feeds/${feed.id}`, undefined, match)).status).toBe(404)
    expect((await program('POST', '/v1/me/calendar-feeds', { scope: 'yard', language: 'en' })).status).toBe(404)
  })

  it.each(['x.ics', 'x', `${'a'.repeat(43)}.ics`, '..%2f..%2fetc.ics', `${'a'.repeat(43)}`, "'%20or%20''='.ics"])(
    '%s is not found',
    async (file) => {
      expectProblem(await server.app.inject({ method: 'GET', url: `/v1/calendars/${file}` }), 404)
    },
  )

  it('is read so often and no more', async () => {
    const limits = { perIdentity: 10_000, perAddress: 10_000 }
    const limited = await startTestServer({ database: server.database, rateLimit: limits, now: () => now })
    const link = await make(staff, 'yard')
    const url = new URL(link).pathname
    const other = new URL(await make(staff, 'yard')).pathname
    const statuses: number[] = []
    for (let index = 0; index < 61; index++) {
      statuses.push((await limited.app.inject({ method: 'GET', url })).statusCode)
    }
    expect(statuses.slice(0, 60).every((status) => status === 200)).toBe(true)
    const refused = await limited.app.inject({ method: 'GET', url })
    expectProblem(refused, 429)
    expect(Number(refused.headers['retry-after'])).toBeGreaterThan(0)
    expect((await limited.app.inject({ method: 'GET', url: other })).statusCode).toBe(200)
    await limited.app.close()
  })

  it('does not stand in the log', () => {
    const { serializers } = loggerOptions('info') as { serializers: { req(request: object): { url: string } } }
    expect(serializers.req({ method: 'GET', url: '/v1/calendars/secret.ics?x=1', ip: '1.1.1.1' }).url).not.toContain(
      'secret',
    )
    expect(serializers.req({ method: 'GET', url: '/v1/boats/Wren', ip: '1.1.1.1' }).url).toBe('/v1/boats/Wren')
  })
})
