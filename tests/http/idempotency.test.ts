import { randomUUID } from 'node:crypto'
import { eq, sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { boats, idempotencyKeys } from '../../src/db/schema/index.js'
import { expectProblem } from './problem-schema.js'
import { type Credentials, startTestServer, type TestServer } from './server.js'

const MINUTE_MS = 60_000
const DAY_MS = 24 * 60 * MINUTE_MS

let server: TestServer
let headers: Credentials
let now = new Date()
beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  headers = await server.actorOf('staff')
})
afterAll(() => server.close())

const boat = () => ({ name: `Boat ${randomUUID().slice(0, 8)}` })
const post = (key: string, payload: object, as: Credentials = headers) =>
  server.app.inject({ method: 'POST', url: '/v1/boats', headers: { ...as, 'idempotency-key': key }, payload })
const count = (name: string) => server.database.db.$count(boats, eq(boats.name, name))

/** What a process that died in the middle leaves: a key without an answer. */
async function leaveUnanswered(key: string) {
  await server.database.db
    .update(idempotencyKeys)
    .set({ status: null, headers: null, body: null })
    .where(eq(idempotencyKeys.key, key))
}

describe('a POST sent twice with one Idempotency-Key', () => {
  it('is done once and answered alike', async () => {
    const key = randomUUID()
    const payload = boat()
    const first = await post(key, payload)
    const second = await post(key, payload)
    expect(first.statusCode).toBe(201)
    expect(first.headers['idempotent-replay']).toBeUndefined()
    expect(second.statusCode).toBe(201)
    expect(second.headers['idempotent-replay']).toBe('true')
    expect(second.body).toBe(first.body)
    for (const name of ['content-type', 'etag', 'location']) expect(second.headers[name]).toBe(first.headers[name])
    expect(await count(payload.name)).toBe(1)
  })

  it('gets a refusal again too', async () => {
    const key = randomUUID()
    const payload = boat()
    await post(randomUUID(), payload)
    const first = await post(key, payload)
    const second = await post(key, payload)
    expectProblem(first, 409)
    expect(expectProblem(second, 409)).toEqual(first.json())
    expect(second.headers['idempotent-replay']).toBe('true')
  })

  it('is done once when both come at the same moment', async () => {
    const key = randomUUID()
    const payload = boat()
    const answers = await Promise.all([1, 2, 3, 4, 5].map(() => post(key, payload)))
    expect(await count(payload.name)).toBe(1)
    for (const answer of answers.filter((one) => one.statusCode !== 201)) {
      expectProblem(answer, 409)
      expect(answer.headers['retry-after']).toBeDefined()
    }
    expect(answers.filter((one) => one.statusCode === 201).length).toBeGreaterThan(0)
    expect((await post(key, payload)).statusCode).toBe(201)
  })

  it('is refused when it is another request', async () => {
    const key = randomUUID()
    await post(key, boat())
    expectProblem(await post(key, boat()), 422)
  })

  it('is somebody else’s own request when somebody else sends it', async () => {
    const key = randomUUID()
    await post(key, boat())
    const other = await post(key, boat(), await server.actorOf('manager'))
    expect(other.statusCode).toBe(201)
    expect(other.headers['idempotent-replay']).toBeUndefined()
  })
})

describe('a key', () => {
  it('must have 1 to 255 characters', async () => {
    expect((await post('k'.repeat(255), boat())).statusCode).toBe(201)
    expectProblem(await post('k'.repeat(256), boat()), 400)
  })

  it('is not spent by a request that the schema refuses', async () => {
    const key = randomUUID()
    expectProblem(await post(key, { name: 7 }), 400)
    expect((await post(key, boat())).statusCode).toBe(201)
  })

  it('whose request never answered is held for some minutes, then let through; nothing is written twice', async () => {
    const key = randomUUID()
    const payload = boat()
    await post(key, payload)
    await leaveUnanswered(key)
    const held = await post(key, payload)
    expectProblem(held, 409)
    expect(held.headers['retry-after']).toBe('2')
    now = new Date(now.getTime() + 6 * MINUTE_MS)
    const late = expectProblem(await post(key, payload), 409)
    expect(late.detail).toBe('a boat of this name exists already')
    expect(await count(payload.name)).toBe(1)
  })

  it('whose request never answered is let through at once after a start on a database of its own', async () => {
    const key = randomUUID()
    const payload = boat()
    await post(key, payload)
    await leaveUnanswered(key)
    await server.services.idempotency.releaseAbandoned()
    expect(expectProblem(await post(key, payload), 409).detail).toBe('a boat of this name exists already')
    expect(await count(payload.name)).toBe(1)
  })

  it('is forgotten after a week', async () => {
    const key = randomUUID()
    const payload = boat()
    await post(key, payload)
    now = new Date(now.getTime() + 6 * DAY_MS)
    await server.services.idempotency.forgetOld()
    expect((await post(key, payload)).headers['idempotent-replay']).toBe('true')
    now = new Date(now.getTime() + 2 * DAY_MS)
    await server.services.idempotency.forgetOld()
    const again = await post(key, payload)
    expectProblem(again, 409)
    expect(again.headers['idempotent-replay']).toBeUndefined()
  })

  it('is given back when the service itself fails', async () => {
    const key = randomUUID()
    const payload = boat()
    const { db } = server.database
    await db.execute(sql`alter table boats rename to boats_away`)
    const failed = await post(key, payload)
    await db.execute(sql`alter table boats_away rename to boats`)
    expectProblem(failed, 500)
    expect((await post(key, payload)).statusCode).toBe(201)
  })
})
