import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { type Database, openDatabase } from '../../src/db/client.js'
import { type SwallowingProxy, startSwallowingProxy } from '../database/swallowing-proxy.js'
import { createServerDatabase, type ServerDatabase } from '../database/test-database.js'
import { expectProblem } from './problem-schema.js'
import { type Credentials, startTestServer, type TestServer } from './server.js'

/** 5 s of silence, a second until it is looked at, 5 s for the server to answer a new connection; and some for a busy machine. */
const TOLD_WITHIN_MS = 20_000
/** Longer than the silence that has the server asked. */
const LONG_STATEMENT_S = 7
/** As many requests as take all connections, and more that wait for one. */
const REQUESTS = 30

describe.skipIf(inject('testDatabase').kind === 'embedded')('a database that vanishes without a word', () => {
  let copy: ServerDatabase
  let proxy: SwallowingProxy
  let database: Database
  let server: TestServer
  let headers: Credentials

  beforeAll(async () => {
    copy = (await createServerDatabase())!
    proxy = await startSwallowingProxy(copy.url)
    database = await openDatabase({ databaseUrl: proxy.url, dataDir: '' })
    server = await startTestServer({
      database: { ...database, url: proxy.url },
    })
    headers = await server.actorOf('administrator')
  })
  afterAll(async () => {
    await server?.close()
    proxy?.close()
    await copy?.drop()
  })

  const boats = () => server.app.inject({ url: '/v1/boats', headers })
  const atOnce = () => Promise.all(Array.from({ length: REQUESTS }, boats))

  it('lets a long statement be, for the server is there', async () => {
    const asked = database.service.execute(sql`select pg_sleep(${LONG_STATEMENT_S})::text, 1 as one`)
    await expect(asked).resolves.toMatchObject({ rows: [{ one: 1 }] })
  })

  it('is told of with 503 in seconds, to requests under way and to later ones, and found again', async () => {
    for (const { statusCode } of await atOnce()) expect(statusCode).toBe(200)
    proxy.swallow()
    for (let round = 0; round < 2; round++) {
      const askedAt = performance.now()
      for (const answer of await atOnce()) {
        expect(expectProblem(answer, 503).detail).toContain('the database does not answer')
        expect(answer.headers['retry-after']).toBeDefined()
      }
      expect(performance.now() - askedAt).toBeLessThan(TOLD_WITHIN_MS)
    }
    proxy.letThrough()
    expect((await boats()).statusCode).toBe(200)
  })
})
