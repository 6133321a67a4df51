import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Writable } from 'node:stream'
import { and, eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { members } from '../../src/db/schema/index.js'
import { loggerOptions } from '../../src/log.js'
import { expectProblem } from './problem-schema.js'
import { buildTestService, startTestServer, type TestServer } from './server.js'

const HTTPS = 'https://anodes.example'
let server: TestServer
let folder: string
const lines: string[] = []

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'anode-ledger-web-'))
  writeFileSync(join(folder, 'index.html'), '<title>Start page</title>')
  const stream = new Writable({
    write: (chunk, _encoding, done) => {
      lines.push(String(chunk))
      done()
    },
  })
  server = await startTestServer({
    publicUrl: HTTPS,
    webFolder: folder,
    metricsToken: 'a token of the tests alone',
    logger: { ...(loggerOptions('trace') as object), stream },
  })
})
afterAll(async () => {
  await server.close()
  rmSync(folder, { recursive: true })
})

describe('every page', () => {
  it.each(['/', '/boats/Wren', '/sign-in', '/docs', '/docs/'])(
    '%s runs scripts of its own alone, and stands in no frame',
    async (url) => {
      const answer = await server.app.inject({ url, headers: { accept: 'text/html' } })
      expect(answer.headers['content-type'], url).toContain('text/html')
      const policy = new Map(
        String(answer.headers['content-security-policy'])
          .split(';')
          .map((part) => part.trim().split(/\s+/))
          .map(([name, ...sources]) => [name, sources.join(' ')]),
      )
      expect(policy.get('script-src')).not.toMatch(/unsafe|\*|http:|data:/)
      expect(policy.get('script-src-attr')).toBe("'none'")
      expect(policy.get('object-src')).toBe("'none'")
      expect(policy.get('frame-ancestors')).toBe("'none'")
      expect(policy.get('default-src')).toBe("'self'")
      expect(policy.get('base-uri')).toMatch(/^'(self|none)'$/)
      expect(policy.get('form-action')).toBe("'self'")
    },
  )
})

describe('every answer', () => {
  it.each(['/health/live', '/v1/me', '/v1/nothing', '/nothing', '/metrics', '/v1/openapi.json', '/'])(
    '%s is kept to this origin and HTTPS, and does not say what made it',
    async (url) => {
      const { headers } = await server.app.inject({ url })
      expect(headers).toMatchObject({
        'x-content-type-options': 'nosniff',
        'cross-origin-opener-policy': 'same-origin',
        'cross-origin-resource-policy': 'same-origin',
        'referrer-policy': 'no-referrer',
        'strict-transport-security': expect.stringMatching(/max-age=(3153[6-9]|[4-9]\d{7})\d*/),
      })
      for (const banner of ['server', 'x-powered-by', 'via', 'access-control-allow-origin']) {
        expect(headers[banner], banner).toBeUndefined()
      }
    },
  )
})

describe('cookies', () => {
  it('of a session cannot be read by scripts, travel over HTTPS alone, and not from other sites', async () => {
    const { cookie } = await server.signIn('staff@example.org')
    const chosen = await server.app.inject({
      method: 'POST',
      url: '/v1/me/organisation',
      headers: { cookie: cookie!, origin: HTTPS },
      payload: { organisationId: server.organisationId },
    })
    const out = await server.app.inject({ method: 'POST', url: '/v1/auth/sign-out', headers: { cookie: cookie! } })
    const set = [chosen, out].flatMap(({ headers }) => [headers['set-cookie'] ?? []].flat())
    expect(set.length).toBeGreaterThan(1)
    const before = server.letters.length
    const payload = { email: 'staff@example.org' }
    await server.app.inject({ method: 'POST', url: '/v1/auth/sign-in/magic-link', payload })
    // Letters are sent behind the answer's back.
    await vi.waitUntil(() => server.letters.length > before)
    const token = new URL(server.letters.at(-1)!.text.match(/https?:\S+/)![0]).searchParams.get('token')
    const signedIn = await server.app.inject({ method: 'POST', url: '/v1/auth/magic-link/verify', payload: { token } })
    const session = [signedIn.headers['set-cookie'] ?? []].flat()
    expect(session.some((one) => one.startsWith('__Host-anode_ledger.session_token='))).toBe(true)
    for (const one of [...session, ...set]) {
      // Of the former name only what takes it away.
      expect(one).toMatch(/^(__Host-|__Secure-anode_ledger\.session_token=;)/)
      expect(one).toMatch(/; HttpOnly/i)
      expect(one).toMatch(/; Secure/i)
      expect(one).toMatch(/; SameSite=(Lax|Strict)/i)
      expect(one).toMatch(/; Path=\//i)
      // For this host alone.
      expect(one).not.toMatch(/; Domain=/i)
    }
  })
})

describe('what another site makes a browser send', () => {
  const FOREIGN = [
    { origin: 'https://elsewhere.example' },
    { origin: 'null' },
    { origin: 'https://anodes.example.elsewhere.example' },
    { 'sec-fetch-site': 'cross-site' },
  ]

  it.each(FOREIGN)('with %j changes nothing, by whatever route', async (headers) => {
    const { cookie } = await server.signIn('administrator@example.org')
    const changes = server.app.guardedRoutes.filter(
      ({ method, permission }) => !['GET', 'HEAD'].includes(method) && permission !== 'open',
    )
    const letIn: string[] = []
    for (const { method, url } of changes) {
      const path = url.replaceAll(/:[\w]+/g, '00000000-0000-4000-8000-000000000000')
      const answer = await server.app.inject({
        method: method as 'POST',
        url: path,
        headers: { cookie: cookie!, ...headers },
      })
      if (answer.statusCode !== 403) letIn.push(`${method} ${url}: ${answer.statusCode}`)
    }
    expect(letIn).toEqual([])
    for (const url of ['/v1/auth/sign-out', '/v1/auth/passkey/question']) {
      const answer = await server.app.inject({ method: 'POST', url, headers: { cookie: cookie!, ...headers } })
      expectProblem(answer, 403)
    }
    expect((await server.app.inject({ url: '/v1/me', headers: { cookie: cookie!, ...headers } })).statusCode).toBe(200)
  })

  it('signs nobody in: neither by a link nor by a letter', async () => {
    for (const headers of FOREIGN) {
      for (const url of ['/v1/auth/magic-link/verify', '/v1/letters/token/open']) {
        expectProblem(await server.app.inject({ method: 'POST', url, headers, payload: { token: 'token' } }), 403)
      }
    }
  })
})

describe('a session', () => {
  const role = (to: 'staff' | 'manager' | null) => {
    const where = and(eq(members.organisationId, server.organisationId), eq(members.email, 'manager@example.org'))
    const { db } = server.database
    return to === null ? db.delete(members).where(where) : db.update(members).set({ role: to }).where(where)
  }

  it('has the role of this moment, and none once its person is removed', async () => {
    const headers = await server.signIn('manager@example.org')
    const audit = () => server.app.inject({ url: '/v1/audit', headers })
    expect((await audit()).statusCode).toBe(200)
    await role('staff')
    expectProblem(await audit(), 403)
    await role('manager')
    expect((await audit()).statusCode).toBe(200)
    await role(null)
    expectProblem(await audit(), 403)
    expectProblem(await server.app.inject({ url: '/v1/me', headers }), 403)
  })
})

describe('the log', () => {
  it('holds no secret of any route, wherever it was sent', async () => {
    const secret = 'Marker-Of-A-Secret'
    const isOfLetters = (url: string) => url.includes(':token') || url.includes('/calendars/')
    lines.length = 0
    for (const { method, url } of server.app.guardedRoutes) {
      const path = url.replaceAll(/:[\w]+/g, isOfLetters(url) ? secret : '00000000-0000-4000-8000-000000000000')
      const payload = {
        token: secret,
        secret,
        password: secret,
        key: secret,
        answer: { id: secret },
        keys: { auth: secret },
      }
      for (const body of [payload, `{"broken": "${secret}`]) {
        await server.app.inject({
          method: method as 'POST',
          url: `${path}?token=${secret}&callbackURL=/${secret}`,
          headers: {
            authorization: `Bearer ${secret}`,
            cookie: `__Host-anode_ledger.session_token=${secret}`,
            'idempotency-key': secret,
            'x-api-key': secret,
            'content-type': 'application/json',
            referer: `${HTTPS}/sign-in/link?token=${secret}`,
          },
          ...(!['GET', 'HEAD'].includes(method) && { payload: body }),
        })
      }
    }
    const made = await server.app.inject({
      method: 'POST',
      url: '/v1/api-keys',
      headers: await server.actorOf('administrator'),
      payload: { name: 'Logged', role: 'staff' },
    })
    await server.app.inject({ url: `/metrics?token=${secret}`, headers: { authorization: `Bearer ${secret}` } })
    const log = lines.join('')
    expect(lines.length).toBeGreaterThan(server.app.guardedRoutes.length)
    expect(log.match(new RegExp(`.{0,200}${secret}.{0,50}`, 'i'))?.[0]).toBeUndefined()
    expect(log).not.toContain(made.json().secret)
  })
})

it('does not speak of HTTPS where it is reached without', async () => {
  const plain = await buildTestService(server.database)
  const { headers } = await plain.app.inject({ url: '/' })
  expect(headers['strict-transport-security']).toBeUndefined()
  await plain.app.close()
})
