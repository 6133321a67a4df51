import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type ApiDocument, operationsOf } from '../../fuzz/operations.js'
import { expectProblem } from '../problem-schema.js'
import { type Credentials, startTestServer, type TestServer } from '../server.js'

let server: TestServer
let credentials: Credentials
let takers: { method: string; url: string; mediaType: string }[]
beforeAll(async () => {
  server = await startTestServer({ demo: true })
  credentials = await server.actorOf('administrator')
  const document: ApiDocument = (await server.app.inject('/v1/openapi.json')).json()
  takers = operationsOf(document).flatMap(({ method, path, body }) => {
    const url = path.replaceAll(/\{\w+\}/g, '00000000-0000-4000-8000-000000000000')
    return body ? [{ method, url, mediaType: body.mediaType }] : []
  })
})
afterAll(() => server.close())

/** Longest that one refusal may take, also on a machine that does other work. */
const SLOWEST_MS = 5_000

/** Sends one body to every route that takes JSON; gives those that did other than refuse it at once. */
async function sendToAll(payload: string): Promise<string[]> {
  const wrong: string[] = []
  const headers = { ...credentials, 'content-type': 'application/json' }
  for (const { method, url } of takers.filter(({ mediaType }) => mediaType === 'application/json')) {
    const started = Date.now()
    const answer = await server.app.inject({ method: method as 'POST', url, headers, payload })
    const isRefused = answer.statusCode >= 400 && answer.statusCode < 500
    const tookMs = Date.now() - started
    if (!isRefused || tookMs > SLOWEST_MS) wrong.push(`${method} ${url}: ${answer.statusCode} in ${tookMs} ms`)
    else expectProblem(answer, answer.statusCode)
  }
  return wrong
}

describe('a body to every route that takes one', () => {
  it('has routes to go to', () => {
    expect(takers.length).toBeGreaterThan(60)
  })

  it.each([
    ['lists in lists, 100,000 levels', '['.repeat(100_000) + ']'.repeat(100_000)],
    ['objects in objects, 100,000 levels', `${'{"name":'.repeat(100_000)}1${'}'.repeat(100_000)}`],
    ['two hundred thousand numbers', `[${'0,'.repeat(199_999)}0]`],
    ['twenty thousand unknown members', `{${Array.from({ length: 20_000 }, (_, at) => `"m${at}":1`).join(',')}}`],
    ['more than is taken', JSON.stringify({ name: 'x'.repeat(3 * 1024 * 1024) })],
    ['a prototype', '{"__proto__":{"polluted":true}}'],
    ['a prototype by its constructor', '{"constructor":{"prototype":{"polluted":true}}}'],
    ['a prototype deep inside', '{"name":{"a":[{"__proto__":{"polluted":true}}]}}'],
    ['a number that no number can hold', '{"massG":1e400,"name":1e400}'],
  ])('is refused: %s', async (_what, payload) => {
    expect(await sendToAll(payload)).toEqual([])
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined()
  })
})

it('a body with thousands of faults is told the first 200', async () => {
  const members = Array.from({ length: 20_000 }, (_, at) => [`m${at}`, 1])
  const request = { method: 'POST', url: '/v1/boats', headers: credentials } as const
  const answer = await server.app.inject({ ...request, payload: Object.fromEntries(members) })
  expect(expectProblem(answer, 400).errors).toHaveLength(200)
})

describe('a body that is nested too deeply', () => {
  it('is refused in words, also where nothing answers and where it would be kept for a repetition', async () => {
    const payload = '['.repeat(21) + ']'.repeat(21)
    const headers = { ...credentials, 'content-type': 'application/json', 'idempotency-key': 'deep' }
    for (const url of ['/v1/boats', '/v1/nothing/here']) {
      const problem = expectProblem(await server.app.inject({ method: 'POST', url, headers, payload }), 400)
      expect(problem.detail).toBe('the request must not be nested more than 20 levels deep')
    }
    const allowed = await server.app.inject({
      method: 'POST',
      url: '/v1/boats',
      headers,
      payload: '['.repeat(20) + ']'.repeat(20),
    })
    expect(expectProblem(allowed, 400).detail).toBe('the request must be an object')
  })
})

describe('an address that cannot be read', () => {
  it.each([
    ['/v1/boats/%zz', 400],
    ['/v1/boats/%', 400],
    ['/v1/boats/%c0%af', 400],
    [`/v1/boats/${'L'.repeat(600)}`, 414],
  ])('is a problem too: %s', async (url, status) => {
    expectProblem(await server.app.inject({ url, headers: credentials }), status)
  })
})

/** Parts as a hostile client writes them. */
const BOUNDARY = 'attack'
const part = (head: string, content: string) => `--${BOUNDARY}\r\n${head}\r\n\r\n${content}\r\n`
const file = (name: string, content = 'x') =>
  part(`Content-Disposition: form-data; name="f"; filename="${name}"`, content)

describe('a form', () => {
  it.each([
    ['a thousand files', file('boats.csv', 'boat\na').repeat(1000)],
    ['a thousand fields', part('Content-Disposition: form-data; name="a"', 'b').repeat(1000)],
    [
      'a part with ten thousand headers',
      part(`${'x-a: b\r\n'.repeat(10_000)}Content-Disposition: form-data; name="a"`, 'b'),
    ],
    [
      'a part with a header of a megabyte',
      part(`Content-Disposition: form-data; name="${'a'.repeat(1024 * 1024)}"`, 'b'),
    ],
    ['a form in a form', part('Content-Type: multipart/mixed; boundary=inner', '--inner\r\n\r\nx\r\n--inner--')],
    ['a field called __proto__', part('Content-Disposition: form-data; name="__proto__"', '{"polluted":true}')],
    ['a file that would lie elsewhere', file('../../../../etc/cron.d/x.csv')],
    ['a name with NUL', file('boats.csv\0.jpg')],
    ['no end', '--attack\r\nContent-Disposition: form-data; name="f"; filename="boats.csv"\r\n\r\nboat'],
    ['nothing', ''],
  ])('is refused on every route that takes one: %s', async (_what, parts) => {
    const payload = parts === '' || !parts.endsWith('\r\n') ? parts : `${parts}--${BOUNDARY}--\r\n`
    const headers = { ...credentials, 'content-type': `multipart/form-data; boundary=${BOUNDARY}` }
    const forms = takers.filter(({ mediaType }) => mediaType === 'multipart/form-data')
    expect(forms.length).toBe(3)
    for (const { url } of forms) {
      const answer = await server.app.inject({ method: 'POST', url, headers, payload })
      expect([400, 404, 413, 415, 422], `${url}: ${answer.body}`).toContain(answer.statusCode)
      expectProblem(answer, answer.statusCode)
    }
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined()
  })
})
