import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { attempts } from '../../src/db/schema/index.js'
import { rateLimitOf } from '../../src/http/security.js'
import { expectProblem } from './problem-schema.js'
import { startTestServer, type TestServer } from './server.js'

/** Two processes of the service on one database. */
let one: TestServer
let other: TestServer
let now = new Date('2031-04-18T09:30:00Z')
beforeAll(async () => {
  const options = { now: () => now, rateLimit: rateLimitOf(10_000) }
  one = await startTestServer(options)
  other = await startTestServer({ ...options, database: one.database })
})
afterAll(async () => {
  await other.app.close()
  await one.close()
})

const wrongKey = (index: number) => ({ authorization: `Bearer al_${String(index).padStart(43, 'x')}` })
const tryKey = (server: TestServer, headers: Record<string, string>, remoteAddress: string) =>
  server.app.inject({ url: '/v1/me', headers, remoteAddress })

describe('wrong keys', () => {
  it('are told apart from too many of them, and then ask the database for nothing', async () => {
    const address = '198.51.100.1'
    const right = await one.actorOf('staff')
    expect((await tryKey(one, right, address)).statusCode).toBe(200)
    for (let index = 0; index < 30; index++) expectProblem(await tryKey(one, wrongKey(index), address), 401)
    const refused = await tryKey(one, wrongKey(30), address)
    expectProblem(refused, 429)
    expect(Number(refused.headers['retry-after'])).toBeGreaterThan(0)
    const lookUp = vi.spyOn(one.services.apiKeys, 'actorOf')
    expectProblem(await tryKey(one, wrongKey(31), address), 429)
    expect(lookUp).not.toHaveBeenCalled()
    lookUp.mockRestore()
    // Whoever has a right key goes on, and so does every other address.
    expect((await tryKey(one, right, address)).statusCode).toBe(200)
    expectProblem(await tryKey(one, wrongKey(32), '198.51.100.2'), 401)
  })

  it('count over all processes of the service', async () => {
    const address = '198.51.100.3'
    for (let index = 0; index < 15; index++) {
      for (const server of [one, other]) expectProblem(await tryKey(server, wrongKey(index), address), 401)
    }
    for (const server of [one, other]) expectProblem(await tryKey(server, wrongKey(99), address), 429)
  })

  it('count by the network of 64 bits where the address is one of IPv6', async () => {
    for (let index = 0; index < 30; index++) {
      expectProblem(await tryKey(one, wrongKey(index), `2001:db8:1:2::${index + 1}`), 401)
    }
    expectProblem(await tryKey(one, wrongKey(30), '2001:db8:1:2:aaaa::1'), 429)
    expectProblem(await tryKey(one, wrongKey(30), '2001:db8:1:3::1'), 401)
  })

  it('cannot be spread over addresses that a request invents', async () => {
    const statuses: number[] = []
    for (let index = 0; index <= 30; index++) {
      const headers = {
        ...wrongKey(index),
        'x-forwarded-for': `203.0.113.${index}`,
        forwarded: `for=203.0.113.${index}`,
      }
      statuses.push((await tryKey(one, headers, '198.51.100.4')).statusCode)
    }
    expect(statuses.at(-1)).toBe(429)
  })
})

describe('links to sign in', () => {
  const ask = (server: TestServer, email: string, remoteAddress = '198.51.100.5') =>
    server.app.inject({ method: 'POST', url: '/v1/auth/sign-in/magic-link', payload: { email }, remoteAddress })

  it('are counted by letter box over all processes, and come again when the time is over', async () => {
    for (const server of [one, other, one, other, one]) {
      expect((await ask(server, 'staff@example.org')).statusCode).toBe(200)
    }
    const refused = await ask(other, 'Staff@example.org')
    expectProblem(refused, 429)
    expect(refused.headers['retry-after']).toBe('900')
    now = new Date(now.getTime() + 15 * 60_000)
    expect((await ask(other, 'staff@example.org')).statusCode).toBe(200)
  })

  it('are counted by who asks as well, whatever the letter boxes', async () => {
    const statuses = []
    for (let index = 0; index <= 60; index++) {
      statuses.push((await ask(one, `nobody-${index}@example.org`, '198.51.100.6')).statusCode)
    }
    expect([statuses.at(-2), statuses.at(-1)]).toEqual([200, 429])
  })
})

describe('tokens', () => {
  it.each([
    ['/v1/auth/magic-link/verify', { token: 'guessed' }, 60],
    ['/v1/set-up', { token: 'guessed', organisationName: 'Yard', email: 'ada@example.org' }, 20],
    ['/v1/letters/guessed/open', {}, 60],
  ])('of %s cannot be tried for ever', async (url, payload, max) => {
    const send = () => one.app.inject({ method: 'POST', url, payload, remoteAddress: '198.51.100.7' })
    for (let index = 0; index < max; index++) expect((await send()).statusCode).not.toBe(429)
    expectProblem(await send(), 429)
  })
})

it('keeps neither addresses nor letter boxes, and nothing that is over', async () => {
  now = new Date(now.getTime() + 24 * 3_600_000)
  await one.services.attempts.count({ what: 'test', max: 1, withinMs: 1000 }, 'ada@example.org')
  const kept = await one.database.db.select().from(attempts)
  expect(kept).toHaveLength(1)
  expect(kept[0]!.key).toMatch(/^[\da-f]{64}$/)
})

it('loses none of those that come at once', async () => {
  const limit = { what: 'at once', max: 20, withinMs: 60_000 }
  const waits = await Promise.all(
    Array.from({ length: 50 }, (_, index) => [one, other][index % 2]!.services.attempts.count(limit, 'x')),
  )
  expect(waits.filter((wait) => wait === 0)).toHaveLength(20)
})
