import { randomUUID } from 'node:crypto'
import { and, eq, inArray } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import {
  authSessions,
  authUsers,
  authVerifications,
  members,
  organisations,
  owners,
} from '../../src/db/schema/index.js'
import { FORMER_NAME_ENDS } from '../../src/services/access/cookie-names.js'
import { expectProblem } from './problem-schema.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
beforeAll(async () => {
  server = await startTestServer()
})
afterAll(() => server.close())

const askForLink = (email: string, more: object = {}, headers: Record<string, string> = {}) =>
  server.app.inject({
    method: 'POST',
    url: '/v1/auth/sign-in/magic-link',
    payload: { email, ...more },
    headers,
  })

/** As the button of the link's page does. */
const follow = (link: URL) =>
  server.app.inject({
    method: 'POST',
    url: '/v1/auth/magic-link/verify',
    payload: { token: link.searchParams.get('token'), callbackURL: link.searchParams.get('callbackURL') },
  })

/** The link in the newest letter to this address. */
async function linkTo(email: string): Promise<URL> {
  for (let attempt = 0; attempt < 200; attempt++) {
    const letter = server.letters.findLast((one) => one.to === email)
    const link = letter?.text.match(/https?:\S+/)?.[0]
    if (link) return new URL(link)
    await new Promise((resolve) => setTimeout(resolve, 10))
  }
  throw new Error(`no letter to ${email}`)
}

async function newMember(role: 'staff' | 'manager' = 'staff'): Promise<string> {
  const email = `${randomUUID()}@example.org`
  await server.database.db.insert(members).values({ organisationId: server.organisationId, email, role })
  return email
}

const me = async (headers: Record<string, string>) => server.app.inject({ url: '/v1/me', headers })

describe('the link of a letter', () => {
  it('signs a member in, with their role, and notes who they are', async () => {
    const email = await newMember('manager')
    const headers = await server.signIn(email)
    expect((await me(headers)).json()).toMatchObject({ kind: 'person', email, role: 'manager', demo: false })
    const [row] = await server.database.db.select().from(members).where(eq(members.email, email))
    expect(row?.userId).not.toBeNull()
  })

  it('comes in the language that its reader chose, else in that of the browser that asks', async () => {
    const email = await newMember()
    const subject = () => server.letters.findLast(({ to }) => to === email)?.subject
    await askForLink(email, {}, { 'accept-language': 'pt, fr-CA;q=0.8, en;q=0.5' })
    await expect.poll(subject).toBe('Connexion à Anode Ledger')
    const headers = await server.signIn(email)
    await server.app.inject({ method: 'PATCH', url: '/v1/me/preferences', headers, payload: { language: 'de' } })
    await askForLink(email, {}, { 'accept-language': 'fr' })
    await expect.poll(subject).toBe('Anmelden bei Anode Ledger')
  })

  it('opens the page that was asked for', async () => {
    const email = await newMember()
    await askForLink(email, { callbackURL: '/boats/Wren' })
    const link = await linkTo(email)
    expect(link.pathname).toBe('/sign-in/link')
    const answer = await follow(link)
    expect(answer.statusCode).toBe(200)
    expect(answer.json()).toEqual({ page: '/boats/Wren' })
  })

  it('works once', async () => {
    const email = await newMember()
    await askForLink(email)
    const link = await linkTo(email)
    const first = await follow(link)
    expect(first.cookies.length).toBeGreaterThan(0)
    const second = await follow(link)
    expect(second.cookies).toEqual([])
    expect(expectProblem(second, 410).detail).toContain('ask for a new one')
  })

  it('is not spent by a mail program that opens it to look, at its page or at the address before that', async () => {
    const email = await newMember()
    await askForLink(email, { callbackURL: '/boats/Wren' })
    const link = await linkTo(email)
    for (let looks = 0; looks < 2; looks++) {
      expect((await server.app.inject(link.pathname + link.search)).cookies).toEqual([])
      const seen = await server.app.inject(`/v1/auth/magic-link/verify${link.search}`)
      expect(seen.statusCode).toBe(302)
      expect(seen.cookies).toEqual([])
      expect(seen.headers.location).toBe(link.pathname + link.search)
    }
    expect((await follow(link)).cookies.length).toBeGreaterThan(0)
  })

  it('is not followed for a page of another site, nor to one', async () => {
    const email = await newMember()
    await askForLink(email)
    const token = (await linkTo(email)).searchParams.get('token')
    const post = (payload: object, headers = {}) =>
      server.app.inject({ method: 'POST', url: '/v1/auth/magic-link/verify', payload, headers })
    expectProblem(await post({ token }, { origin: 'https://evil.example' }), 403)
    expectProblem(await post({ token, callbackURL: 'https://evil.example' }), 400)
    expect((await post({ token })).json()).toEqual({ page: '/' })
  })

  it('lies in the database as a hash only, and ends after a quarter of an hour', async () => {
    const email = await newMember()
    await askForLink(email)
    const link = await linkTo(email)
    const token = link.searchParams.get('token') ?? ''
    const rows = await server.database.db.select().from(authVerifications)
    const row = rows.find((one) => one.value.includes(email))
    expect(JSON.stringify(rows)).not.toContain(token)
    expect(row && (row.expiresAt.getTime() - row.createdAt.getTime()) / 60_000).toBeCloseTo(15, 0)
    await server.database.db
      .update(authVerifications)
      .set({ expiresAt: new Date(Date.now() - 1000) })
      .where(eq(authVerifications.id, row?.id ?? ''))
    expect((await follow(link)).cookies).toEqual([])
  })

  it('never leads to another site', async () => {
    const email = await newMember()
    for (const page of ['https://evil.example', '//evil.example', '/\\evil.example', 'javascript:alert(1)']) {
      expectProblem(await askForLink(email, { callbackURL: page }), 400)
    }
  })

  it('is not sent to an address nobody knows, and the answer does not tell', async () => {
    const known = await askForLink(await newMember())
    const unknown = await askForLink('stranger@example.org')
    expect(unknown.statusCode).toBe(known.statusCode)
    expect(unknown.json()).toEqual(known.json())
    // A letter to the next address comes after any letter to the first would have come.
    const next = await newMember()
    await askForLink(next)
    await linkTo(next)
    expect(server.letters.map((one) => one.to)).not.toContain('stranger@example.org')
  })

  it('goes to an address whatever its case', async () => {
    const email = await newMember()
    await askForLink(email.toUpperCase())
    expect((await linkTo(email)).pathname).toBe('/sign-in/link')
  })
})

describe('the session', () => {
  it('is kept in a cookie that scripts and other sites cannot use', async () => {
    const email = await newMember()
    await askForLink(email)
    const link = await linkTo(email)
    const { cookies } = await follow(link)
    expect(cookies).toHaveLength(1)
    expect(cookies[0]).toMatchObject({ httpOnly: true, sameSite: 'Lax', path: '/' })
    expect(cookies[0]?.secure).toBeUndefined()
  })

  it('travels over HTTPS alone where the service is reached over HTTPS', async () => {
    const { database } = server
    const https = await startTestServer({ database, publicUrl: 'https://anodes.example' })
    const { cookie } = await https.signIn(https.ownerEmail)
    expect(cookie).toMatch(/^__Host-/)
    await https.app.close()
  })

  it('is still read under its former name, beside none of today’s, and ends with the sign-out', async () => {
    const { database } = server
    const https = await startTestServer({ database, publicUrl: 'https://anodes.example' })
    const email = await newMember()
    const sessionOf = async (whose: string) =>
      /__Host-anode_ledger\.session_token=([^;]+)/.exec((await https.signIn(whose)).cookie!)![1]
    const former = `__Secure-anode_ledger.session_token=${await sessionOf(email)}`
    const today = `__Host-anode_ledger.session_token=${await sessionOf(https.ownerEmail)}`
    const who = (cookie: string) => https.app.inject({ url: '/v1/me', headers: { cookie } })
    expect((await who(former)).json()).toMatchObject({ kind: 'person', email })
    expect((await who(`${former}; ${today}`)).json()).toMatchObject({ email: https.ownerEmail })

    const began = (createdAt: Date) =>
      database.db
        .update(authSessions)
        .set({ createdAt })
        .where(inArray(authSessions.userId, userOf(email)))
    const userOf = (address: string) =>
      database.db.select({ id: authUsers.id }).from(authUsers).where(eq(authUsers.email, address))
    // One that begins when nobody is given the former name any more was put in by somebody else.
    await began(FORMER_NAME_ENDS)
    expectProblem(await who(former), 401)
    await began(new Date(FORMER_NAME_ENDS.getTime() - 1))
    expect((await who(former)).statusCode).toBe(200)

    const out = await https.app.inject({ method: 'POST', url: '/v1/auth/sign-out', headers: { cookie: former } })
    expect([out.headers['set-cookie']].flat().join('\n')).toContain('__Secure-anode_ledger.session_token=; Max-Age=0')
    expectProblem(await who(former), 401)
    await https.app.close()
  })

  it('is refused when its cookie was tampered with', async () => {
    const { cookie = '' } = await server.signIn(await newMember())
    const forged = cookie.replace(/=(.)/, (_all, first: string) => `=${first === 'a' ? 'b' : 'a'}`)
    expectProblem(await me({ cookie: forged }), 401)
  })

  it('ends with the sign-out', async () => {
    const headers = await server.signIn(await newMember())
    const out = await server.app.inject({ method: 'POST', url: '/v1/auth/sign-out', headers })
    expect(out.statusCode).toBe(200)
    expectProblem(await me(headers), 401)
  })

  it('is worth nothing once the member is removed', async () => {
    const email = await newMember()
    const headers = await server.signIn(email)
    await server.database.db.delete(members).where(eq(members.email, email))
    expectProblem(await me(headers), 403)
  })

  it('cannot be used by a page of another site', async () => {
    const headers = await server.signIn(await newMember())
    const boat = { method: 'POST' as const, url: '/v1/boats', payload: { name: `Boat ${randomUUID().slice(0, 8)}` } }
    expectProblem(await server.app.inject({ ...boat, headers: { ...headers, origin: 'https://evil.example' } }), 403)
    expectProblem(await server.app.inject({ ...boat, headers: { ...headers, origin: 'null' } }), 403)
    const own = await server.app.inject({ ...boat, headers: { ...headers, origin: 'http://localhost:3000' } })
    expect(own.statusCode).toBe(201)
    expectProblem(await askForLink('a@example.org', {}, { origin: 'https://evil.example' }), 403)
  })
})

describe('a person', () => {
  it('whose boat lies here is an owner, without being a member', async () => {
    const email = `${randomUUID()}@example.org`
    await server.database.db
      .insert(owners)
      .values({ organisationId: server.organisationId, name: 'Ona', email: email.toUpperCase() })
    const headers = await server.signIn(email)
    expect((await me(headers)).json()).toMatchObject({ role: 'owner', permissions: ['self:read', 'fleet:read'] })
  })

  it('acts in the organisation they choose, and in no other', async () => {
    const { db } = server.database
    const email = await newMember('staff')
    const [second] = await db.insert(organisations).values({ name: 'Second yard' }).returning()
    const [foreign] = await db.insert(organisations).values({ name: 'Foreign yard' }).returning()
    const organisationId = second?.id ?? ''
    await db.insert(members).values({ organisationId, email, role: 'manager' })
    const headers = await server.signIn(email)
    expect((await me(headers)).json()).toMatchObject({ organisation: { name: 'Test yard' }, role: 'staff' })

    const byHeader = await me({ ...headers, 'x-organisation': organisationId })
    expect(byHeader.json()).toMatchObject({ organisation: { name: 'Second yard' }, role: 'manager' })
    expectProblem(await me({ ...headers, 'x-organisation': foreign?.id ?? '' }), 403)

    const choose = (id: string) =>
      server.app.inject({ method: 'POST', url: '/v1/me/organisation', headers, payload: { organisationId: id } })
    expectProblem(await choose(foreign?.id ?? ''), 403)
    const chosen = await choose(organisationId)
    expect(chosen.statusCode).toBe(204)
    expect(chosen.cookies[0]).toMatchObject({ httpOnly: true, sameSite: 'Lax' })
    const cookie = `${headers.cookie}; ${chosen.cookies[0]?.name}=${chosen.cookies[0]?.value}`
    expect((await me({ cookie })).json()).toMatchObject({ organisation: { name: 'Second yard' } })

    await db.delete(members).where(and(eq(members.email, email), eq(members.organisationId, organisationId)))
    expect((await me({ cookie })).json()).toMatchObject({ organisation: { name: 'Test yard' } })
  })
})

describe('the demo', () => {
  it('lets one look as somebody; elsewhere the door is not there', async () => {
    const look = (one: TestServer, role: string) =>
      one.app.inject({ method: 'POST', url: '/v1/demo/look-as', payload: { role } })
    expectProblem(await look(server, 'manager'), 404)
    const demo = await startTestServer({ demo: true })
    const answer = await look(demo, 'manager')
    expect(answer.statusCode).toBe(204)
    const cookie = answer.cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`).join('; ')
    const who = await demo.app.inject({ url: '/v1/me', headers: { cookie } })
    expect(who.json()).toMatchObject({ role: 'manager', demo: true })
    expectProblem(await look(demo, 'administrator'), 400)
    expect(demo.letters).toEqual([])
    await demo.close()
  })
})
