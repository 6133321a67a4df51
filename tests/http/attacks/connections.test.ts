import { connect, type Socket } from 'node:net'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { expectProblem } from '../problem-schema.js'
import { startTestServer, type TestServer } from '../server.js'
import { answersIn, portOf, readRaw, sendRaw } from './raw-connection.js'

let server: TestServer
let port: number
beforeAll(async () => {
  server = await startTestServer()
  port = await portOf(server.app)
})
afterAll(() => server.close())

describe('bytes that are no request', () => {
  it.each([
    ['no HTTP at all', 'hello\r\n\r\n', 400],
    ['a header with NUL', 'GET /health/live HTTP/1.1\r\nHost: x\r\nx-a: a\0b\r\n\r\n', 400],
    ['another protocol', '\x16\x03\x01\x02\x00\x01\x00', 400],
    ['no Host (RFC 9112, 3.2)', 'GET /health/live HTTP/1.1\r\n\r\n', 400],
    ['headers beyond 16 KiB', `GET / HTTP/1.1\r\nHost: x\r\nx-a: ${'a'.repeat(20_000)}\r\n\r\n`, 431],
  ])('are answered with a problem document: %s', async (_what, bytes, status) => {
    const { text } = await sendRaw(port, bytes)
    if (text.includes('problem+json')) expectProblem(readRaw(text), status)
    // Node itself refuses a request without a Host, before the service hears of it.
    else expect(text).toMatch(/^HTTP\/1\.1 400 Bad Request\r\nConnection: close/)
  })
})

/** A second request hidden in the body of the first, where two readers could disagree on how long that is (RFC 9112, 11.2). */
describe('a request within a request', () => {
  const hidden = 'GET /v1/openapi.json HTTP/1.1\r\nHost: x\r\n\r\n'
  it.each([
    ['both lengths', `Content-Length: ${hidden.length + 5}\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n${hidden}`],
    ['two lengths', `Content-Length: 0\r\nContent-Length: ${hidden.length}\r\n\r\n${hidden}`],
    ['chunked by another name', `Transfer-Encoding: xchunked\r\n\r\n0\r\n\r\n${hidden}`],
    ['chunked, then not', `Transfer-Encoding: chunked, identity\r\n\r\n0\r\n\r\n${hidden}`],
    ['a length with a sign', `Content-Length: +${hidden.length}\r\n\r\n${hidden}`],
    ['a folded header', `Transfer-Encoding:\r\n chunked\r\nContent-Length: 3\r\n\r\n0\r\n\r\n${hidden}`],
    ['a bare line feed in a chunk', `Transfer-Encoding: chunked\r\n\r\n1\nx\r\n0\r\n\r\n${hidden}`],
  ])('is never answered: %s', async (_what, rest) => {
    const bytes = `POST /v1/auth/sign-out HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n${rest}`
    const { text } = await sendRaw(port, bytes)
    expect(answersIn(text)).toBe(1)
    expectProblem(readRaw(text), 400)
    expect(text).not.toContain('"openapi"')
  })
})

/** Until a connection that sends no whole request is closed: a minute for headers and ten for all, cut to a second for the test. */
const PATIENCE_MS = 1_000
/** Node looks that often at its connections (http.createServer, connectionsCheckingInterval). */
const LOOKS_EVERY_MS = 30_000

describe('connections that trickle', () => {
  it('are closed after their time, and others are served meanwhile', async () => {
    const slow = await startTestServer({ database: server.database })
    const slowPort = await portOf(slow.app)
    slow.app.server.headersTimeout = PATIENCE_MS
    slow.app.server.requestTimeout = PATIENCE_MS
    const started = Date.now()
    const trickling = [
      ...Array.from({ length: 50 }, () => trickle(slowPort, 'GET / HTTP/1.1\r\nHost: x\r\n', 'x-a: b\r\n')),
      ...Array.from({ length: 50 }, () =>
        trickle(
          slowPort,
          'POST /v1/auth/sign-out HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 9999\r\n\r\n{',
          ' ',
        ),
      ),
    ]
    const asked = Date.now()
    const answer = await fetch(`http://127.0.0.1:${slowPort}/health/ready`)
    expect(answer.status).toBe(200)
    expect(Date.now() - asked).toBeLessThan(5_000)
    const answers = await Promise.all(trickling)
    expect(Date.now() - started).toBeLessThan(PATIENCE_MS + LOOKS_EVERY_MS + 10_000)
    for (const text of answers) expectProblem(readRaw(text), 408)
    await slow.app.close()
  })
})

/** Sends a little every now and then until the service has had enough; gives what it said. */
function trickle(to: number, first: string, more: string): Promise<string> {
  return new Promise((resolve) => {
    let text = ''
    const socket: Socket = connect(to, '127.0.0.1', () => socket.write(first))
    const drops = setInterval(() => socket.writable && socket.write(more), 200)
    socket.on('data', (chunk) => {
      text += chunk.toString('latin1')
    })
    // Whoever goes on writing to a closed connection hears of it as an error.
    socket.on('error', () => {})
    socket.on('close', () => {
      clearInterval(drops)
      resolve(text)
    })
  })
}

describe('the Host header', () => {
  it('reaches no link of a letter', async () => {
    const payload = { email: 'manager@example.org' }
    const before = server.letters.length
    const headers = { host: 'evil.example', 'x-forwarded-host': 'evil.example', 'x-forwarded-proto': 'https' }
    const answer = await server.app.inject({ method: 'POST', url: '/v1/auth/sign-in/magic-link', headers, payload })
    expect(answer.statusCode).toBe(200)
    await expect.poll(() => server.letters.length).toBe(before + 1)
    const letter = JSON.stringify(server.letters.at(-1))
    expect(letter).toContain('http://localhost:3000/')
    expect(letter).not.toContain('evil.example')
  })

  it('reaches no redirection', async () => {
    const headers = { host: 'evil.example' }
    const url = '/v1/auth/magic-link/verify?token=abc'
    const { headers: answered } = await server.app.inject({ url, headers })
    expect(String(answered.location)).toMatch(/^\/[^/]/)
    for (const callbackURL of ['//evil.example', '/\\evil.example', 'https://evil.example', '/%09/evil.example\t']) {
      const refused = await server.app.inject({ url: `${url}&callbackURL=${encodeURIComponent(callbackURL)}` })
      if (refused.statusCode === 302) expect(String(refused.headers.location)).toMatch(/^\/[^/\\]/)
      else expectProblem(refused, 400)
    }
  })
})
