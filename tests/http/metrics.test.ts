import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { notices } from '../../src/db/schema/index.js'
import { createTestDatabase } from '../database/test-database.js'
import { startTestServer, type TestServer } from './server.js'

const TOKEN = 'a token of the tests alone'
let server: TestServer

beforeAll(async () => {
  server = await startTestServer({ metricsToken: TOKEN })
})
afterAll(() => server.close())

const ask = (authorization?: string) =>
  server.app.inject({ url: '/metrics', headers: authorization === undefined ? {} : { authorization } })

/** Lines of the text format of Prometheus, without its comments: name, labels, figure. */
function samples(text: string): { name: string; labels: string; value: number }[] {
  return text
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('#'))
    .map((line) => {
      const [, name, labels = '', value] = line.match(/^([a-zA-Z_:][\w:]*)(?:\{(.*)\})? (\S+)$/) ?? []
      expect(name, line).toBeDefined()
      return { name: name!, labels, value: Number(value) }
    })
}

describe('metrics', () => {
  it('count requests by route, never by what somebody named', async () => {
    const headers = await server.actorOf('staff')
    for (const boat of ['Wren', 'Teal']) await server.app.inject({ url: `/v1/boats/${boat}`, headers })
    await server.app.inject({ url: '/no/such/page' })
    const answer = await ask(`Bearer ${TOKEN}`)
    expect(answer.headers['content-type']).toMatch(/^text\/plain; version=0\.0\.4/)
    expect(answer.body).not.toMatch(/Wren|Teal|no\/such/)
    const counted = samples(answer.body).filter(({ name }) => name === 'http_request_duration_seconds_count')
    const boats = counted.find(({ labels }) => labels === 'method="GET",route="/v1/boats/:boat",status="404"')
    expect(boats?.value).toBe(2)
    expect(counted.some(({ labels }) => labels.includes('route="none"'))).toBe(true)
    expect(samples(answer.body).some(({ name }) => name === 'process_resident_memory_bytes')).toBe(true)
  })

  it('tell what waits and what was given up, over all organisations', async () => {
    const { organisationId } = server
    const letter = { organisationId, kind: 'digest' as const, boatId: null, decidedOn: '2031-04-01', why: [] }
    await server.database.db.insert(notices).values([
      { ...letter, email: 'a@example.org', once: 'a', state: 'failed' },
      { ...letter, email: 'b@example.org', once: 'b', state: 'failed' },
      { ...letter, email: 'c@example.org', once: 'c', nextAttemptAt: '2031-04-02T00:00:00Z' },
    ])
    const waiting = () => ask(`Bearer ${TOKEN}`).then(({ body }) => samples(body))
    const of = (all: ReturnType<typeof samples>, labels: string) =>
      all.find((each) => each.name === 'anode_ledger_unfinished' && each.labels === labels)?.value
    expect(of(await waiting(), 'kind="letter",state="failed"')).toBe(2)
    expect(of(await waiting(), 'kind="letter",state="waiting"')).toBe(1)
    await server.database.db.delete(notices)
    expect(of(await waiting(), 'kind="letter",state="failed"')).toBeUndefined()
  })

  it('tell since when the oldest waits, and go on where the database is away', async () => {
    const database = await createTestDatabase()
    const own = await startTestServer({ metricsToken: TOKEN, database })
    const { organisationId } = own
    const due = new Date(Date.now() - 90_000).toISOString()
    const letter = { organisationId, kind: 'digest' as const, boatId: null, decidedOn: '2031-04-01', why: [] }
    await database.db.insert(notices).values({ ...letter, email: 'a@example.org', once: 'a', nextAttemptAt: due })
    const scrape = () => own.app.inject({ url: '/metrics', headers: { authorization: `Bearer ${TOKEN}` } })
    const oldest = samples((await scrape()).body).find(({ name }) => name === 'anode_ledger_oldest_waiting_seconds')
    expect(oldest?.labels).toBe('kind="letter"')
    expect(oldest?.value).toBeGreaterThan(89)
    expect(oldest?.value).toBeLessThan(150)
    await database.close()
    const without = await scrape()
    expect(without.statusCode).toBe(200)
    const names = new Set(samples(without.body).map(({ name }) => name))
    expect(names).toContain('http_request_duration_seconds_count')
    expect(names).not.toContain('anode_ledger_oldest_waiting_seconds')
    await own.close()
  })

  it('tell of statements, connections and the event loop', async () => {
    await server.app.inject({ url: '/v1/boats', headers: await server.actorOf('staff') })
    const all = samples((await ask(`Bearer ${TOKEN}`)).body)
    const selects = all.find(
      ({ name, labels }) =>
        name === 'anode_ledger_statement_duration_seconds_count' &&
        labels.includes('operation="SELECT",outcome="done"'),
    )
    expect(selects?.value).toBeGreaterThan(0)
    const names = new Set(all.map(({ name }) => name))
    expect(names).toContain('nodejs_eventloop_lag_p99_seconds')
    if (server.database.kind === 'embedded') return
    const most = all.find(
      ({ name, labels }) => name === 'anode_ledger_database_connections_max' && labels === 'pool="service"',
    )
    expect(most?.value).toBe(10)
    const open = all.filter(({ name }) => name === 'anode_ledger_database_connections')
    expect(open.map(({ labels }) => labels)).toContain('pool="service",state="idle"')
  })

  it('are for whoever shows the token, and not there at all without one', async () => {
    expect((await ask()).statusCode).toBe(401)
    expect((await ask(`Bearer ${TOKEN}x`)).statusCode).toBe(401)
    expect((await ask((await server.actorOf('administrator')).authorization)).statusCode).toBe(401)
    const without = await startTestServer()
    const headers = { authorization: `Bearer ${TOKEN}` }
    expect((await without.app.inject({ url: '/metrics', headers })).statusCode).toBe(404)
    await without.close()
  })
})
