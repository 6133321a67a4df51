import { randomUUID } from 'node:crypto'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { passkeyChallenges } from '../../src/db/schema/index.js'
import { expectProblem } from './problem-schema.js'
import { type Credentials, startTestServer, type TestServer } from './server.js'
import { type DeviceOptions, SoftPasskey } from './soft-passkey.js'

const HERE = { origin: 'http://localhost:3000', site: 'localhost' }
const MINUTE_MS = 60_000

let server: TestServer
let owner: Credentials
let now = new Date()
beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  owner = await server.signIn(server.ownerEmail)
})
afterAll(() => server.close())

const post = (url: string, headers: Credentials, payload?: object) =>
  server.app.inject({ method: 'POST', url, headers, ...(payload && { payload }) })
const list = async (headers: Credentials) => (await server.app.inject({ url: '/v1/me/passkeys', headers })).json().items
const ask = async (headers: Credentials) => (await post('/v1/me/passkeys/question', headers)).json()
const askWho = async () => (await post('/v1/auth/passkey/question', {})).json()

async function addPasskey(headers: Credentials, options: DeviceOptions = HERE) {
  const device = new SoftPasskey(options)
  return { device, answer: await post('/v1/me/passkeys', headers, device.register(await ask(owner))) }
}

async function letInBy(device: SoftPasskey): Promise<Credentials> {
  const answer = await post('/v1/auth/passkey', {}, device.signIn(await askWho()))
  expect(answer.statusCode).toBe(204)
  return { cookie: answer.cookies.map(({ name, value }) => `${name}=${value}`).join('; ') }
}

describe('a passkey', () => {
  it('is added by whoever is signed in, who is told by mail, and signs them in', async () => {
    const { device, answer } = await addPasskey({ ...owner, 'user-agent': 'Firefox/128.0 (Android 14)' })
    expect(answer.statusCode).toBe(201)
    expect(answer.json()).toMatchObject({ browser: 'Firefox', system: 'Android', lastUsedAt: null })
    const letter = () => server.letters.find(({ subject }) => subject === 'A passkey was added')
    await expect
      .poll(letter)
      .toMatchObject({ to: server.ownerEmail, text: expect.stringContaining('Firefox on Android') })
    const me = await server.app.inject({ url: '/v1/me', headers: await letInBy(device) })
    expect(me.json()).toMatchObject({ email: server.ownerEmail })
    const known = await list(owner)
    expect(known.find(({ id }: { id: string }) => id === device.id.toString('base64url'))).toMatchObject({
      lastUsedAt: now.toISOString(),
    })
  })

  it('opens nothing once it is removed, and is nobody else’s to remove', async () => {
    const { device } = await addPasskey(owner)
    const remove = (by: Credentials) =>
      server.app.inject({ method: 'DELETE', url: `/v1/me/passkeys/${device.id.toString('base64url')}`, headers: by })
    expectProblem(await remove(await server.actorOf('administrator')), 404)
    await letInBy(device)
    expect((await remove(owner)).statusCode).toBe(204)
    expectProblem(await post('/v1/auth/passkey', {}, device.signIn(await askWho())), 422)
  })

  it('is one person’s, and known once', async () => {
    const { device } = await addPasskey(owner)
    expectProblem(await post('/v1/me/passkeys', owner, device.register(await ask(owner))), 409)
  })

  it('belongs to people alone', async () => {
    const program = await server.actorOf('administrator')
    expect(await list(program)).toEqual([])
    expectProblem(await post('/v1/me/passkeys/question', program), 404)
  })
})

describe('what is not accepted', () => {
  const refused = async (device: SoftPasskey, change: (body: ReturnType<SoftPasskey['signIn']>) => object) => {
    const problem = expectProblem(await post('/v1/auth/passkey', {}, change(device.signIn(await askWho()))), 422)
    return problem.errors?.map(({ pointer }) => pointer)
  }

  it.each([
    ['made for another site', { origin: 'http://localhost:3000', site: 'elsewhere.example.org' }],
    ['asked by a page of another site', { origin: 'https://elsewhere.example.org', site: 'localhost' }],
    ['of a device that did not recognise its holder', { ...HERE, verifies: false }],
  ])('is a key %s', async (_, options) => {
    const before = await list(owner)
    const { answer } = await addPasskey(owner, options)
    expectProblem(answer, 422)
    expect(await list(owner)).toEqual(before)
  })

  it('is a key that nobody has, in the same words as one that does not fit', async () => {
    const { device } = await addPasskey(owner)
    const stranger = new SoftPasskey(HERE)
    const bodies = [
      stranger.signIn(await askWho()),
      { ...stranger.signIn(await askWho()), answer: { ...stranger.signIn(await askWho()).answer, ...idOf(device) } },
    ]
    const answers = await Promise.all(bodies.map((body) => post('/v1/auth/passkey', {}, body)))
    const said = answers.map((answer) => expectProblem(answer, 422).errors)
    expect(said[0]).toEqual(said[1])
    expect(answers.flatMap(({ cookies }) => cookies)).toEqual([])
  })

  it('is an answer given twice, one to no question, and one that took too long', async () => {
    const { device } = await addPasskey(owner)
    const body = device.signIn(await askWho())
    expect((await post('/v1/auth/passkey', {}, body)).statusCode).toBe(204)
    expectProblem(await post('/v1/auth/passkey', {}, body), 422)
    expect(await refused(device, (one) => ({ ...one, ceremony: randomUUID() }))).toEqual(['#/ceremony'])
    const late = device.signIn(await askWho())
    now = new Date(now.getTime() + 6 * MINUTE_MS)
    expectProblem(await post('/v1/auth/passkey', {}, late), 422)
    await askWho()
    expect((await server.database.db.select().from(passkeyChallenges)).length).toBe(1)
  })

  it('is a count that runs backwards: somebody may have copied the key', async () => {
    const { device } = await addPasskey(owner)
    await letInBy(device)
    device.counter = 0
    expect(await refused(device, (body) => body)).toEqual(['#/answer'])
  })

  it('is an answer meant for adding a key where somebody signs in, and the other way round', async () => {
    const { device } = await addPasskey(owner)
    const question = await ask(owner)
    expectProblem(await post('/v1/auth/passkey', {}, device.signIn(question)), 422)
    const other = new SoftPasskey(HERE)
    expectProblem(await post('/v1/me/passkeys', owner, other.register(await askWho())), 422)
  })

  it('is a request that a page of another site makes', async () => {
    const { device } = await addPasskey(owner)
    const foreign = { origin: 'https://elsewhere.example.org' }
    expectProblem(await post('/v1/auth/passkey/question', foreign), 403)
    expectProblem(await post('/v1/auth/passkey', foreign, device.signIn(await askWho())), 403)
  })

  it('is a body out of shape, by its field', async () => {
    const { device } = await addPasskey(owner)
    const body = device.signIn(await askWho())
    const response = { ...body.answer.response, signature: 'not base64url!' }
    const answer = await post('/v1/auth/passkey', {}, { ...body, answer: { ...body.answer, response } })
    expect(expectProblem(answer, 400).errors?.map(({ pointer }) => pointer)).toEqual(['#/answer/response/signature'])
  })
})

it('says where a service without a name cannot have passkeys', async () => {
  const numbered = await startTestServer({ publicUrl: 'http://127.0.0.1:3000' })
  const answer = await numbered.app.inject({ method: 'POST', url: '/v1/auth/passkey/question' })
  expect(expectProblem(answer, 409).detail).toContain('PUBLIC_URL')
  await numbered.close()
})

function idOf({ id }: SoftPasskey) {
  return { id: id.toString('base64url'), rawId: id.toString('base64url') }
}
