import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { apiKeys, auditEntries, idempotencyKeys, members, organisations } from '../../src/db/schema/index.js'
import { expectProblem } from './problem-schema.js'
import { type Credentials, startTestServer, type TestServer } from './server.js'

let server: TestServer
let administrator: Credentials
let now = new Date()
beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  administrator = await server.actorOf('administrator')
})
afterAll(() => server.close())

const make = (payload: object) =>
  server.app.inject({ method: 'POST', url: '/v1/api-keys', headers: administrator, payload })
const using = (secret: string) => ({ authorization: `Bearer ${secret}` })
const me = (headers: Credentials) => server.app.inject({ url: '/v1/me', headers })
const row = async (id: string) => (await server.database.db.select().from(apiKeys).where(eq(apiKeys.id, id)))[0]
const revoke = (id: string, etag: string) =>
  server.app.inject({ method: 'DELETE', url: `/v1/api-keys/${id}`, headers: { ...administrator, 'if-match': etag } })

describe('an API key', () => {
  it('is shown once and opens what its role may', async () => {
    const made = await make({ name: 'Lift phone', role: 'staff' })
    expect(made.statusCode).toBe(201)
    const { id, secret, prefix } = made.json()
    expect(secret).toMatch(/^al_[\w-]{43}$/)
    expect(secret.startsWith(prefix)).toBe(true)
    expect((await me(using(secret))).json()).toMatchObject({ kind: 'key', actor: 'key:Lift phone', role: 'staff' })
    const listed = await server.app.inject({ url: '/v1/api-keys', headers: administrator })
    expect(listed.json().items.map((one: { id: string }) => one.id)).toContain(id)
    expect(listed.body).not.toContain(secret)
    expect(JSON.stringify(await row(id))).not.toContain(secret)
  })

  it('is not known when it is another, and no scheme but Bearer is taken', async () => {
    const wrong = expectProblem(await me(using(`al_${'x'.repeat(43)}`)), 401)
    expect(wrong.detail).toBe('the API key is not known')
    const basic = await me({ authorization: 'Basic YTpi' })
    expectProblem(basic, 401)
    expect(basic.headers['www-authenticate']).toMatch(/^Bearer/)
    expectProblem(await me({}), 401)
  })

  it('ends when it expires', async () => {
    const expiresAt = new Date(now.getTime() + 60_000).toISOString()
    const { secret } = (await make({ name: 'Short', role: 'staff', expiresAt })).json()
    expect((await me(using(secret))).statusCode).toBe(200)
    now = new Date(now.getTime() + 61_000)
    expect(expectProblem(await me(using(secret)), 401).detail).toBe('the API key has expired')
    expectProblem(await make({ name: 'Past', role: 'staff', expiresAt }), 422)
  })

  it('ends when it is revoked, and its row stays', async () => {
    const made = await make({ name: 'Lost phone', role: 'staff' })
    const { id, secret } = made.json()
    expectProblem(await revoke(id, '"99"'), 412)
    expect((await revoke(id, String(made.headers.etag))).statusCode).toBe(204)
    expect(expectProblem(await me(using(secret)), 401).detail).toBe('the API key was revoked')
    expect((await row(id))?.revokedAt).not.toBeNull()
  })

  it('notes its use once a minute, which is no change of it', async () => {
    const { id, secret } = (await make({ name: 'Busy', role: 'manager' })).json()
    await me(using(secret))
    const first = await row(id)
    expect(first?.lastUsedAt).not.toBeNull()
    now = new Date(now.getTime() + 59_000)
    await me(using(secret))
    expect((await row(id))?.lastUsedAt).toBe(first?.lastUsedAt)
    now = new Date(now.getTime() + 2_000)
    await me(using(secret))
    const later = await row(id)
    expect(later?.lastUsedAt).not.toBe(first?.lastUsedAt)
    expect(later?.version).toBe(1)
    const changes = await server.database.db.select().from(auditEntries).where(eq(auditEntries.rowId, id))
    expect(changes.map((one) => one.action)).toEqual(['insert'])
  })

  it('is not kept for a repetition of the request either', async () => {
    const headers = { ...administrator, 'idempotency-key': randomUUID() }
    const payload = { name: 'Repeated', role: 'staff' }
    const send = () => server.app.inject({ method: 'POST', url: '/v1/api-keys', headers, payload })
    const first = (await send()).json()
    const second = await send()
    expect(second.headers['idempotent-replay']).toBe('true')
    expect(second.json()).toEqual({ ...first, secret: null })
    const kept = await server.database.db.select().from(idempotencyKeys)
    expect(JSON.stringify(kept)).not.toContain(first.secret)
  })

  it('has no owner’s role, and a name', async () => {
    expectProblem(await make({ name: 'Owner', role: 'owner' }), 400)
    expectProblem(await make({ name: '  ', role: 'staff' }), 400)
    expectProblem(await make({ name: 'Extra', role: 'staff', secret: 'chosen' }), 400)
  })

  it('of another organisation is not there', async () => {
    const [foreign] = await server.database.db.insert(organisations).values({ name: 'Foreign' }).returning()
    const acting = { organisationId: foreign?.id ?? '', role: 'administrator' as const, actor: 'test' }
    const theirs = await server.services.apiKeys.create(acting, { name: 'Theirs', role: 'staff' })
    expectProblem(await server.app.inject({ url: `/v1/api-keys/${theirs.id}`, headers: administrator }), 404)
    expectProblem(await revoke(theirs.id, '"1"'), 404)
  })
})

describe('the scope of a key', () => {
  const keyOf = async (scope: string, role = 'administrator') =>
    using((await make({ name: `For ${scope}`, role, scope })).json().secret)

  it('is all of its role unless it is told', async () => {
    const made = (await make({ name: 'Whole', role: 'staff' })).json()
    expect(made.scope).toBe('all')
    expectProblem(await make({ name: 'Strange', role: 'staff', scope: 'some' }), 400)
  })

  /** A door of each kind: an answer other than 403 means that it was open. */
  const DOORS = {
    'GET /v1/boats': 'read lift',
    'GET /v1/exports': 'read',
    'GET /v1/desk/boats': 'read',
    'POST /v1/boats': '',
    'POST /v1/boats/none/haul-outs': 'lift',
    'POST /v1/weighings/00000000-0000-4000-8000-000000000000/photos': 'lift',
    'POST /v1/boats/none/what-if': 'read lift',
    'POST /v1/desk/lift-plan': 'read',
    'POST /v1/desk/views': '',
    'POST /v1/imports': 'import',
    'POST /v1/api-keys': '',
    'PATCH /v1/organisation': '',
  }
  it.each(['read', 'lift', 'import'])(
    '%s opens its own doors alone, an administrator’s key included',
    async (scope) => {
      const headers = await keyOf(scope)
      const open: string[] = []
      for (const door of Object.keys(DOORS)) {
        const [method, url] = door.split(' ') as ['GET', string]
        const answer = await server.app.inject({ method, url, headers, ...(method !== 'GET' && { payload: {} }) })
        if (answer.statusCode !== 403) open.push(door)
        else expect(answer.json().detail).toContain(`the scope "${scope}" of this key`)
      }
      expect(open).toEqual(
        Object.entries(DOORS).flatMap(([door, scopes]) => (scopes.split(' ').includes(scope) ? [door] : [])),
      )
    },
  )

  it('never gives more than the role has', async () => {
    const headers = await keyOf('import', 'staff')
    expect((await me(headers)).json()).toMatchObject({ scope: 'import', permissions: ['self:read'] })
    expectProblem(await server.app.inject({ method: 'POST', url: '/v1/imports', headers }), 403)
  })
})

describe('a key that gets another secret', () => {
  const renew = (id: string, etag: string, payload: object = {}) =>
    server.app.inject({
      method: 'POST',
      url: `/v1/api-keys/${id}/secret`,
      headers: { ...administrator, 'if-match': etag },
      payload,
    })
  const listed = async (id: string) =>
    (await server.app.inject({ url: `/v1/api-keys/${id}`, headers: administrator })).json()

  it('opens by both while the program changes over, then by the new one alone', async () => {
    const made = await make({ name: 'Scale', role: 'staff' })
    const { id, secret: before, prefix } = made.json()
    await me(using(before))
    const renewed = await renew(id, String(made.headers.etag), { overlapHours: 2 })
    expect(renewed.statusCode, renewed.body).toBe(200)
    const { secret } = renewed.json()
    expect(secret).not.toBe(before)
    const until = new Date(now.getTime() + 2 * 3_600_000).toISOString()
    expect(renewed.json().previousSecret).toMatchObject({ prefix, until })
    expect((await listed(id)).lastUsedAt).toBeNull()
    for (const one of [before, secret]) {
      expect((await me(using(one))).json()).toMatchObject({ actor: 'key:Scale', role: 'staff' })
    }
    expect(await listed(id)).toMatchObject({
      lastUsedAt: now.toISOString(),
      previousSecret: { prefix, lastUsedAt: now.toISOString() },
    })
    now = new Date(now.getTime() + 2 * 3_600_000)
    expect(expectProblem(await me(using(before)), 401).detail).toBe('the API key has been replaced by a newer one')
    expect((await me(using(secret))).statusCode).toBe(200)
    expect((await listed(id)).previousSecret).toBeNull()
    const entries = await server.database.db.select().from(auditEntries).where(eq(auditEntries.rowId, id))
    expect(entries.map((one) => one.action)).toEqual(['insert', 'update'])
  })

  it('opens no longer by the old one where that got into wrong hands', async () => {
    const made = await make({ name: 'Lost', role: 'staff' })
    const { secret } = (await renew(made.json().id, String(made.headers.etag), { overlapHours: 0 })).json()
    expectProblem(await me(using(made.json().secret)), 401)
    expect((await me(using(secret))).statusCode).toBe(200)
  })

  it('is renewed from the version that was read, not for longer than a week, and not once it is over', async () => {
    const made = await make({ name: 'Careful', role: 'staff' })
    const { id } = made.json()
    const etag = String(made.headers.etag)
    expectProblem(await renew(id, '"99"'), 412)
    expectProblem(await renew(id, etag, { overlapHours: 169 }), 400)
    const renewed = await renew(id, etag)
    expectProblem(await renew(id, etag), 412)
    await revoke(id, String(renewed.headers.etag))
    for (const { secret } of [made.json(), renewed.json()]) expectProblem(await me(using(secret)), 401)
    expectProblem(await renew(id, String((await listed(id)).version).replace(/.+/, '"$&"')), 409)
  })
})

describe('members', () => {
  const invite = (email: string, role: string) =>
    server.app.inject({ method: 'POST', url: '/v1/members', headers: administrator, payload: { email, role } })

  it('are invited in the language of whoever invites, unless they chose one', async () => {
    const inviter = `${randomUUID()}@example.org`
    await invite(inviter, 'administrator')
    const headers = await server.signIn(inviter)
    await server.app.inject({ method: 'PATCH', url: '/v1/me/preferences', headers, payload: { language: 'es' } })
    const email = `${randomUUID()}@example.org`
    await server.app.inject({ method: 'POST', url: '/v1/members', headers, payload: { email, role: 'staff' } })
    expect(server.letters.at(-1)).toMatchObject({ to: email, subject: 'Invitación a Anode Ledger' })
  })

  it('are invited by e-mail, change roles and go', async () => {
    const email = `${randomUUID()}@example.org`
    const invited = await invite(email.toUpperCase(), 'staff')
    expect(invited.statusCode).toBe(201)
    expect(invited.json()).toMatchObject({ email, role: 'staff', signedIn: false })
    expect(server.letters.at(-1)).toMatchObject({ to: email, subject: 'Invitation to Anode Ledger' })
    expectProblem(await invite(email, 'manager'), 409)

    const url = String(invited.headers.location)
    const change = (etag: string) =>
      server.app.inject({
        method: 'PATCH',
        url,
        headers: { ...administrator, 'if-match': etag },
        payload: { role: 'manager' },
      })
    const changed = await change(String(invited.headers.etag))
    expect(changed.json()).toMatchObject({ role: 'manager', version: 2 })
    expectProblem(await change(String(invited.headers.etag)), 412)
    expectProblem(await server.app.inject({ method: 'DELETE', url, headers: administrator }), 428)
    const gone = await server.app.inject({ method: 'DELETE', url, headers: { ...administrator, 'if-match': '"2"' } })
    expect(gone.statusCode).toBe(204)
    expectProblem(await server.app.inject({ url, headers: administrator }), 404)
  })

  it('and keys together keep at least one administrator', async () => {
    const lone = await startTestServer({ database: server.database })
    const { db } = server.database
    const { organisationId } = lone
    const headers = await lone.actorOf('administrator')
    const { items } = (await lone.app.inject({ url: '/v1/api-keys', headers })).json()
    await db.delete(members).where(eq(members.organisationId, organisationId))
    const last = await lone.app.inject({
      method: 'DELETE',
      url: `/v1/api-keys/${items[0].id}`,
      headers: { ...headers, 'if-match': '"1"' },
    })
    expect(expectProblem(last, 409).detail).toMatch(/last administrator/)
    expect((await lone.app.inject({ url: '/v1/me', headers })).statusCode).toBe(200)
    await lone.app.close()
  })
})

describe('the organisation', () => {
  it('changes its name and threshold by version', async () => {
    const read = await server.app.inject({ url: '/v1/organisation', headers: administrator })
    const patch = (payload: object) =>
      server.app.inject({
        method: 'PATCH',
        url: '/v1/organisation',
        headers: { ...administrator, 'if-match': String(read.headers.etag) },
        payload,
      })
    expectProblem(await patch({ wastingThreshold: 1 }), 400)
    const asked = server.refits.askedBy.length
    const changed = await patch({ name: 'Renamed yard', wastingThreshold: 0.6 })
    expect(changed.json()).toMatchObject({ name: 'Renamed yard', wastingThreshold: 0.6 })
    expect(server.refits.askedBy.length).toBe(asked + 1)
    expectProblem(await patch({ name: 'Again' }), 412)
  })

  it('tells who changed what, newest first, without the hashes of keys', async () => {
    const { id } = (await make({ name: 'Audited', role: 'staff' })).json()
    const page = await server.app.inject({ url: '/v1/audit?limit=1', headers: administrator })
    expect(page.json().items[0]).toMatchObject({ table: 'api_keys', row: id, action: 'insert', before: null })
    expect(page.json().items[0].actor).toMatch(/^key:/)
    expect(page.body).not.toContain('secret_sha256')
    const next = await server.app.inject({
      url: `/v1/audit?limit=1&cursor=${page.json().nextCursor}`,
      headers: administrator,
    })
    expect(Number(next.json().items[0].id)).toBeLessThan(Number(page.json().items[0].id))
    const ofRow = await server.app.inject({ url: `/v1/audit?row=${id}&table=api_keys`, headers: administrator })
    expect(ofRow.json()).toMatchObject({ items: [{ row: id }], nextCursor: null })
    expectProblem(await server.app.inject({ url: '/v1/audit?cursor=bm9uZQ', headers: administrator }), 400)
  })
})
