import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { SessionView } from '../../src/contract/access.js'
import { authSessions } from '../../src/db/schema/index.js'
import { expectProblem } from './problem-schema.js'
import { type Credentials, startTestServer, type TestServer } from './server.js'

let server: TestServer
beforeAll(async () => {
  server = await startTestServer()
})
afterAll(() => server.close())

const list = async (headers: Credentials): Promise<SessionView[]> =>
  (await server.app.inject({ url: '/v1/me/sessions', headers })).json().items
const statusOf = async (headers: Credentials) => (await server.app.inject({ url: '/v1/me', headers })).statusCode
const end = (headers: Credentials, id: string) =>
  server.app.inject({ method: 'DELETE', url: `/v1/me/sessions/${id}`, headers })
const endMany = (headers: Credentials, which: string) =>
  server.app.inject({ method: 'POST', url: '/v1/me/sessions/end', headers, payload: { which } })

async function idOf(headers: Credentials): Promise<string> {
  const own = (await list(headers)).find(({ current }) => current)
  if (!own) throw new Error('the session that asks is not in its own list')
  return own.id
}

describe('the sessions of a person', () => {
  it('are listed with the one that asks marked, and show nobody its token', async () => {
    const [phone, desk] = [await server.signIn('staff@example.org'), await server.signIn('staff@example.org')]
    const sessions = await list(desk)
    expect(sessions.length).toBe(2)
    expect(sessions.filter(({ current }) => current).length).toBe(1)
    expect(await idOf(phone)).not.toBe(await idOf(desk))
    const tokens = await server.database.db.select({ token: authSessions.token }).from(authSessions)
    const text = JSON.stringify(sessions)
    expect(tokens.filter(({ token }) => text.includes(token))).toEqual([])
    await endMany(desk, 'all')
  })

  it('name browser and system as the browser gave itself out', async () => {
    const headers = await server.signIn('staff@example.org')
    const userAgent = 'Mozilla/5.0 (Android 14; Mobile; rv:128.0) Gecko/128.0 Firefox/128.0'
    await server.database.db
      .update(authSessions)
      .set({ userAgent })
      .where(eq(authSessions.id, await idOf(headers)))
    expect((await list(headers))[0]).toMatchObject({ browser: 'Firefox', system: 'Android', current: true })
    await endMany(headers, 'all')
  })

  it('leave out what has expired', async () => {
    const headers = await server.signIn('staff@example.org')
    const other = await idOf(await server.signIn('staff@example.org'))
    await server.database.db
      .update(authSessions)
      .set({ expiresAt: new Date(0) })
      .where(eq(authSessions.id, other))
    expect((await list(headers)).map(({ id }) => id)).not.toContain(other)
    await endMany(headers, 'all')
  })

  it('are none of a program’s', async () => {
    const key = await server.actorOf('administrator')
    expect(await list(key)).toEqual([])
    expectProblem(await endMany(key, 'all'), 404)
  })
})

describe('signing out', () => {
  it('refuses the one device from its next request on, and no other', async () => {
    const [lost, mine] = [await server.signIn('manager@example.org'), await server.signIn('manager@example.org')]
    expect(await statusOf(lost)).toBe(200)
    expect((await end(mine, await idOf(lost))).statusCode).toBe(204)
    expect(await statusOf(lost)).toBe(401)
    expect(await statusOf(mine)).toBe(200)
    await endMany(mine, 'all')
  })

  it('everywhere else keeps the one that asks', async () => {
    const mine = await server.signIn('manager@example.org')
    const others = [await server.signIn('manager@example.org'), await server.signIn('manager@example.org')]
    expect((await endMany(mine, 'others')).statusCode).toBe(204)
    expect(await statusOf(mine)).toBe(200)
    expect(await Promise.all(others.map(statusOf))).toEqual([401, 401])
    await endMany(mine, 'all')
  })

  it('everywhere ends the one that asks too', async () => {
    const [mine, other] = [await server.signIn('manager@example.org'), await server.signIn('manager@example.org')]
    expect((await endMany(mine, 'all')).statusCode).toBe(204)
    expect(await Promise.all([mine, other].map(statusOf))).toEqual([401, 401])
  })

  it('does not reach another person’s device', async () => {
    const [ada, bo] = [await server.signIn('staff@example.org'), await server.signIn('manager@example.org')]
    expectProblem(await end(ada, await idOf(bo)), 404)
    await endMany(ada, 'all')
    expect(await statusOf(bo)).toBe(200)
  })

  it('is refused from a page of another site', async () => {
    const mine = await server.signIn('staff@example.org')
    expectProblem(await endMany({ ...mine, origin: 'https://elsewhere.example' }, 'all'), 403)
    expect(await statusOf(mine)).toBe(200)
  })
})
