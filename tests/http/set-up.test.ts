import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'
import { expectProblem } from './problem-schema.js'
import { buildTestService } from './server.js'

const NAME = 'My organisation'
const KEY = 'a-key-from-the-environment'

type Service = Awaited<ReturnType<typeof buildTestService>>

describe('a first start with ADMIN_API_KEY', () => {
  let database: TestDatabase
  let service: Service
  beforeAll(async () => {
    database = await createTestDatabase()
    service = await buildTestService(database)
  })
  afterAll(async () => {
    await service.app.close()
    await database.close()
  })

  it('makes an organisation that this key administers, once', async () => {
    const { services, app } = service
    expect(await services.setUp.atStart(KEY, NAME)).toEqual({ done: 'organisation made', name: NAME })
    expect(await services.setUp.atStart(KEY, NAME)).toEqual({ done: 'nothing' })
    const me = await app.inject({ url: '/v1/me', headers: { authorization: `Bearer ${KEY}` } })
    expect(me.json()).toMatchObject({ kind: 'key', role: 'administrator', organisation: { name: NAME } })
    expectProblem(await app.inject({ url: '/v1/me', headers: { authorization: 'Bearer another-key' } }), 401)
  })

  it('leaves what is there alone when the key is another', async () => {
    expect(await service.services.setUp.atStart('another key, not known here', NAME)).toEqual({ done: 'key unknown' })
    expect(await service.services.setUp.atStart(undefined, NAME)).toEqual({ done: 'nothing' })
  })
})

describe('a first start without a key', () => {
  let database: TestDatabase
  let service: Service
  beforeAll(async () => {
    database = await createTestDatabase()
    service = await buildTestService(database)
  })
  afterAll(async () => {
    await service.app.close()
    await database.close()
  })

  const redeem = (token: string) =>
    service.app.inject({
      method: 'POST',
      url: '/v1/set-up',
      payload: { token, organisationName: 'North Quay', email: 'Ada@example.org' },
    })

  async function tokenOfStart(): Promise<string> {
    const start = await service.services.setUp.atStart(undefined, NAME)
    if (start.done !== 'link made') throw new Error(start.done)
    expect(start.link).toMatch(/^http:\/\/localhost:3000\/set-up\?token=/)
    return new URL(start.link).searchParams.get('token') ?? ''
  }

  it('makes a link that a later start replaces, and that works once', async () => {
    const replaced = await tokenOfStart()
    const token = await tokenOfStart()
    expectProblem(await redeem(replaced), 404)
    expectProblem(await redeem('guessed'), 404)
    const answers = await Promise.all([redeem(token), redeem(token)])
    expect(answers.map((one) => one.statusCode).sort()).toEqual([201, expect.any(Number)])
    expect(answers.filter((one) => one.statusCode === 201)).toHaveLength(1)
    expectProblem(await redeem(token), 409)
  })

  it('sends the first person a link, and they are administrator', async () => {
    // The letter is not waited for by the answer that asks for it.
    await vi.waitFor(() => expect(service.letters).not.toEqual([]))
    const letter = service.letters[0]
    expect(letter?.to).toBe('ada@example.org')
    const link = new URL(letter?.text.match(/https?:\S+/)?.[0] ?? '')
    const payload = { token: link.searchParams.get('token') }
    const followed = await service.app.inject({ method: 'POST', url: '/v1/auth/magic-link/verify', payload })
    const cookie = followed.cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`).join('; ')
    const me = await service.app.inject({ url: '/v1/me', headers: { cookie } })
    expect(me.json()).toMatchObject({ role: 'administrator', organisation: { name: 'North Quay' } })
  })
})
