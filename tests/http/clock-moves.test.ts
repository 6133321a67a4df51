import { randomUUID } from 'node:crypto'
import { eq, sql } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, expect, it, vi } from 'vitest'
import { boats, idempotencyKeys, jobs, noticesTold } from '../../src/db/schema/index.js'
import { JobService } from '../../src/services/jobs/job-service.js'
import { type Ask, askAs } from './ask.js'
import { refitNow } from './refitted-fleet.js'
import { startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

const MINUTE_MS = 60_000
const DAY_MS = 24 * 60 * MINUTE_MS
const NOW = new Date('2026-06-10T12:00:00Z')

let server: TestServer
let administrator: Ask
let now = NOW
const moveClock = (ms: number) => {
  now = new Date(now.getTime() + ms)
}

beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  await importFleet(server, fleetFiles('owner@example.org'))
  await refitNow(server, () => now)
  administrator = askAs(server, await server.actorOf('administrator'))
})
beforeEach(() => {
  now = NOW
})
afterAll(() => server.close())

async function send(): Promise<number> {
  await server.services.noticeDecider.decideAll()
  let sent = 0
  for (let some = 1; some > 0; sent += some) some = await server.services.noticeSender.deliverDue()
  return sent
}

it('nobody is written to twice of the same when the clock is put back and forth', async () => {
  await administrator('PATCH', '/v1/reminders', { enabled: true, quietFrom: 0, quietTo: 0 })
  expect(await send()).toBeGreaterThan(0)
  const told = await server.database.db.$count(noticesTold)
  for (const days of [-1, 1, -40, 40]) {
    moveClock(days * DAY_MS)
    expect(await send(), `after ${days} days`).toBe(0)
  }
  expect(await server.database.db.$count(noticesTold)).toBe(told)
})

it('a request is done once under its key, whichever way the clock moves between', async () => {
  const headers = await server.actorOf('staff')
  const name = `Boat ${randomUUID().slice(0, 8)}`
  const key = randomUUID()
  const post = () =>
    server.app.inject({
      method: 'POST',
      url: '/v1/boats',
      headers: { ...headers, 'idempotency-key': key },
      payload: { name },
    })
  const first = await post()
  for (const ms of [-3 * DAY_MS, 6 * DAY_MS, -365 * DAY_MS]) {
    moveClock(ms)
    const again = await post()
    expect([again.statusCode, again.body, again.headers['idempotent-replay']]).toEqual([201, first.body, 'true'])
  }
  // Its process died, and the clock was put back by a year: nobody waits for a year.
  await server.database.db
    .update(idempotencyKeys)
    .set({ status: null, headers: null, body: null })
    .where(eq(idempotencyKeys.key, key))
  expect((await post()).json().detail).toBe('a boat of this name exists already')
  expect(await server.database.db.$count(boats, eq(boats.name, name))).toBe(1)
})

it('readiness is found out anew though the clock was put back', async () => {
  const ready = async () => (await server.app.inject('/health/ready')).statusCode
  expect(await ready()).toBe(200)
  const away = vi.spyOn(server.database.service, 'execute').mockRejectedValue(new Error('away'))
  moveClock(-60 * MINUTE_MS)
  expect(await ready()).toBe(503)
  away.mockRestore()
})

it('attempts are counted anew though the clock was put back', async () => {
  const limit = { what: 'clock', max: 1, withinMs: MINUTE_MS }
  const { attempts } = server.services
  expect([await attempts.count(limit, 'one'), await attempts.count(limit, 'one')]).toEqual([0, 60])
  moveClock(-60 * MINUTE_MS)
  expect(await attempts.count(limit, 'one')).toBe(0)
})

it('no session of a clock that was wrong lasts longer than any other', async () => {
  const statusOf = async (headers: Record<string, string>) =>
    (await server.app.inject({ url: '/v1/me', headers })).statusCode
  vi.useFakeTimers({ toFake: ['Date'], now: Date.now() + 3650 * DAY_MS })
  const later = await server.signIn('staff@example.org')
  expect(await statusOf(later)).toBe(200)
  vi.useRealTimers()
  expect(await statusOf(later)).toBe(401)
  const today = await server.signIn('staff@example.org')
  vi.useFakeTimers({ toFake: ['Date'], now: Date.now() - 60 * MINUTE_MS })
  expect(await statusOf(today)).toBe(200)
  vi.setSystemTime(Date.now() + 31 * DAY_MS)
  expect(await statusOf(today)).toBe(401)
  vi.useRealTimers()
})

it('a job whose last sign of life lies ahead has lost its process', async () => {
  const { database, organisationId } = server
  const beat = (ahead: string) => sql`now() + ${ahead}::interval`
  const [job] = await database.db
    .insert(jobs)
    .values({ organisationId, kind: 'refit', state: 'running', heartbeatAt: beat('5 seconds') })
    .returning()
  const queue = { enqueue: async () => {}, withoutEntry: async () => new Set<string>() }
  const service = new JobService({ db: database.service, across: database.across }, queue)
  expect(await service.reclaimLost()).toBe(0)
  await database.db
    .update(jobs)
    .set({ heartbeatAt: beat('1 hour') })
    .where(eq(jobs.id, job!.id))
  expect(await service.reclaimLost()).toBe(1)
})

it('what was done is told in its order, not in that of the clock', async () => {
  const made = await administrator('POST', '/v1/boats', { name: 'Wren' })
  let version = made.body.version
  for (const launchedYear of [2001, 2002, 2003]) {
    const changed = await administrator('PATCH', '/v1/boats/Wren', { launchedYear }, { 'if-match': `"${version}"` })
    version = changed.body.version
  }
  const { db } = server.database
  // As if the clock had been put back by an hour before each change.
  await db.execute(sql`alter table audit_entries disable trigger user`)
  await db.execute(
    sql`update audit_entries set at = at - ((after->>'version')::int * interval '1 hour') where row_id = ${made.body.id}`,
  )
  await db.execute(sql`alter table audit_entries enable trigger user`)
  const { items } = (await administrator('GET', `/v1/audit?row=${made.body.id}`)).body
  expect(items.map((each: { after: { launched_year: number | null } }) => each.after.launched_year)).toEqual([
    2003,
    2002,
    2001,
    null,
  ])
})
