import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Writable } from 'node:stream'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { rateLimitOf } from '../../src/http/security.js'
import { loggerOptions } from '../../src/log.js'
import { createTestDatabase } from '../database/test-database.js'
import { expectProblem } from './problem-schema.js'
import { buildTestService, startTestServer, type TestServer } from './server.js'

let server: TestServer
beforeAll(async () => {
  server = await startTestServer()
})
afterAll(() => server.close())

describe('health', () => {
  it('is ready once the database answers', async () => {
    const answer = await server.app.inject('/health/ready')
    expect(answer.statusCode).toBe(200)
    expect(answer.json()).toEqual({ status: 'ok' })
  })

  it('is alive but not ready when the database does not answer', async () => {
    const database = await createTestDatabase()
    const { app } = await buildTestService(database)
    await database.close()
    expect((await app.inject('/health/live')).statusCode).toBe(200)
    expect(expectProblem(await app.inject('/health/ready'), 503).detail).toBe('the database does not answer')
    await app.close()
  })
})

describe('what every answer carries', () => {
  it('keeps a page to its own scripts and data', async () => {
    const { headers } = await server.app.inject('/health/live')
    const policy = String(headers['content-security-policy'])
    expect(policy).toContain("default-src 'self'")
    expect(policy).toContain("script-src 'self';")
    expect(policy).not.toMatch(/unsafe-eval|script-src[^;]*unsafe|upgrade-insecure-requests/)
    expect(headers['x-content-type-options']).toBe('nosniff')
    expect(headers['strict-transport-security']).toBeUndefined()
    expect(headers['x-request-id']).toMatch(/^[\da-f-]{36}$/)
  })

  it('is not kept by caches that others share', async () => {
    const headers = await server.actorOf('staff')
    const answer = await server.app.inject({ url: '/v1/boats', headers })
    expect(answer.headers['cache-control']).toBe('private, no-cache')
  })

  it('asks for HTTPS from now on where it is reached over HTTPS', async () => {
    const { app } = await buildTestService(server.database, { publicUrl: 'https://anodes.example' })
    const { headers } = await app.inject('/health/live')
    expect(headers['strict-transport-security']).toMatch(/max-age=/)
    expect(headers['content-security-policy']).toContain('upgrade-insecure-requests')
    await app.close()
  })
})

describe('limits', () => {
  it('refuse a body that is too large', async () => {
    const headers = await server.actorOf('staff')
    const payload = { name: 'x'.repeat(3 * 1024 * 1024) }
    expectProblem(await server.app.inject({ method: 'POST', url: '/v1/boats', headers, payload }), 413)
  })

  it('hold for each key by itself, tighter for addresses without one, and never for whoever watches the health', async () => {
    const limited = await startTestServer({ database: server.database, rateLimit: rateLimitOf(30) })
    const ask = async (headers: Record<string, string>) => limited.app.inject({ url: '/v1/me', headers })
    for (let index = 0; index < 3; index++) expectProblem(await ask({}), 401)
    const refused = await ask({})
    expectProblem(refused, 429)
    // The app's own files are not counted: a page takes some forty of them.
    expect((await limited.app.inject({ url: '/assets/app.js' })).statusCode).not.toBe(429)
    expect(Number(refused.headers['retry-after'])).toBeGreaterThan(0)
    expect((await ask(await limited.actorOf('staff'))).statusCode).toBe(200)
    for (let index = 0; index < 40; index++) {
      expect((await limited.app.inject('/health/ready')).statusCode).toBe(200)
    }
    await limited.close()
  })

  it('hold for the links that one address is sent', async () => {
    const limited = await startTestServer({ database: server.database, rateLimit: rateLimitOf(10_000) })
    const ask = (email: string) =>
      limited.app.inject({ method: 'POST', url: '/v1/auth/sign-in/magic-link', payload: { email } })
    for (let index = 0; index < 5; index++) expect((await ask('staff@example.org')).statusCode).toBe(200)
    expectProblem(await ask('Staff@example.org'), 429)
    expect((await ask('manager@example.org')).statusCode).toBe(200)
    await limited.close()
  })

  it('hold for who asks where a proxy that is trusted forwards it, and for the proxy where none is', async () => {
    const lastStatus = async (trustProxy: number | string[] | undefined) => {
      const limited = await startTestServer({ database: server.database, rateLimit: rateLimitOf(10), trustProxy })
      let status = 0
      for (const asker of ['198.51.100.7', '198.51.100.8', '198.51.100.9']) {
        const headers = { 'x-forwarded-for': asker }
        status = (await limited.app.inject({ url: '/v1/me', headers, remoteAddress: '10.0.0.2' })).statusCode
      }
      await limited.close()
      return status
    }
    expect(await lastStatus(1)).toBe(401)
    expect(await lastStatus(['10.0.0.0/24'])).toBe(401)
    expect(await lastStatus(['10.0.1.0/24'])).toBe(429)
    expect(await lastStatus(undefined)).toBe(429)
  })

  it('can be switched off', () => {
    expect(rateLimitOf(0)).toBeUndefined()
  })
})

it('waits for no request for ever, and for its head a minute', () => {
  const { requestTimeout, headersTimeout } = server.app.server
  expect(requestTimeout).toBe(600_000)
  expect(headersTimeout).toBe(60_000)
})

describe('the log', () => {
  it('holds neither keys nor cookies nor the tokens of links', async () => {
    const lines: string[] = []
    const stream = new Writable({
      write: (chunk, _encoding, done) => {
        lines.push(String(chunk))
        done()
      },
    })
    const logger = { ...(loggerOptions('trace') as object), stream }
    const { app } = await buildTestService(server.database, { logger })
    const headers = { authorization: 'Bearer very-secret-key', cookie: 'anode_ledger.session_token=very-secret-cookie' }
    await app.inject({ url: '/v1/auth/magic-link/verify?token=very-secret-token', headers })
    await app.inject({ url: '/v1/letters/very-secret-letter' })
    await app.inject({ method: 'POST', url: '/v1/letters/very-secret-letter/open' })
    await app.inject({ url: '/letters/open/very-secret-letter' })
    await app.inject({ url: '/letters/very-secret-letter' })
    await app.close()
    expect(lines.join('')).toContain('/v1/auth/magic-link/verify')
    expect(lines.join('')).toContain('/v1/letters/…/open')
    expect(lines.join('')).toContain('"/letters/open/…"')
    expect(lines.join('')).not.toContain('very-secret')
  })
})

describe('the web app', () => {
  let folder: string
  let app: TestServer['app']
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-web-'))
    mkdirSync(join(folder, 'assets'))
    writeFileSync(join(folder, 'index.html'), '<title>Start page</title>')
    writeFileSync(join(folder, 'assets', 'app-1a2b3c.js'), 'export {}')
    app = (await buildTestService(server.database, { webFolder: folder })).app
  })
  afterAll(async () => {
    await app.close()
    rmSync(folder, { recursive: true })
  })
  const page = (url: string) => app.inject({ url, headers: { accept: 'text/html,application/xhtml+xml' } })

  it('starts at each address of its own', async () => {
    for (const url of ['/', '/boats/Wren', '/sign-in?error=INVALID_TOKEN', '/docsomething']) {
      const answer = await page(url)
      expect([url, answer.statusCode, answer.body]).toEqual([url, 200, '<title>Start page</title>'])
      expect(answer.headers['cache-control']).toBe('no-cache')
    }
  })

  it('keeps files with a hash in their name for long', async () => {
    const answer = await app.inject('/assets/app-1a2b3c.js')
    expect(answer.statusCode).toBe(200)
    expect(answer.headers['content-type']).toMatch('javascript')
    expect(answer.headers['cache-control']).toBe('public, max-age=31536000, immutable')
  })

  it('is not what a program gets, nor what the service lacks', async () => {
    for (const url of ['/v1/nothing', '/health/nothing', '/docs/nothing']) expectProblem(await page(url), 404)
    expectProblem(await app.inject({ url: '/boats/Wren', headers: { accept: 'application/json' } }), 404)
    expectProblem(await app.inject({ method: 'POST', url: '/boats', headers: { accept: 'text/html' } }), 404)
  })
})
