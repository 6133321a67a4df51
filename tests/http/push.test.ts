import { createECDH } from 'node:crypto'
import { createServer, type IncomingHttpHeaders, type Server } from 'node:http'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { type Browser, decryptPush } from '../outside/decrypt-push.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

interface Received {
  readonly path: string
  readonly headers: IncomingHttpHeaders
  readonly body: Buffer
}

let server: TestServer
let owner: Ask
let staff: Ask
let program: Ask
let pushService: Server
let origin: string
let received: Received[] = []
/** What the push service answers, by path. */
let answers: Record<string, number> = {}

const CONTENT = { title: 'Wren', body: 'One anode is due', path: '/boats/Wren', tag: 'wren', lang: 'en' }

beforeAll(async () => {
  server = await startTestServer({ networks: ['127.0.0.1'] })
  owner = askAs(server, await server.actorOf('owner'))
  staff = askAs(server, await server.signIn('staff@example.org'))
  program = askAs(server, await server.actorOf('staff'))
  pushService = createServer((request, response) => {
    const chunks: Buffer[] = []
    request.on('data', (chunk: Buffer) => chunks.push(chunk))
    request.on('end', () => {
      received.push({ path: request.url!, headers: request.headers, body: Buffer.concat(chunks) })
      response.writeHead(answers[request.url!] ?? 201).end()
    })
  })
  await new Promise<void>((done) => pushService.listen(0, '127.0.0.1', done))
  const at = pushService.address()
  origin = `http://127.0.0.1:${typeof at === 'object' && at ? at.port : 0}`
})
afterAll(async () => {
  pushService.close()
  await server.close()
})
beforeEach(() => {
  received = []
  answers = {}
})

function subscription(path: string): { browser: Browser; body: { endpoint: string; keys: object } } {
  const keys = createECDH('prime256v1')
  keys.generateKeys()
  const auth = Buffer.alloc(16, path)
  const given = { p256dh: keys.getPublicKey('base64url'), auth: auth.toString('base64url') }
  return { browser: { keys, auth }, body: { endpoint: origin + path, keys: given } }
}

async function subscribe(ask: Ask, path: string): Promise<Browser> {
  const { browser, body } = subscription(path)
  const answer = await ask('POST', '/v1/me/push-subscriptions', { expirationTime: null, ...body })
  expect(answer.status, JSON.stringify(answer.body)).toBe(204)
  return browser
}
const push = (email = server.ownerEmail) => server.services.push.pushToPerson(email, CONTENT)
const end = (ask: Ask, path: string) => ask('POST', '/v1/me/push-subscriptions/end', { endpoint: origin + path })

describe('a notification', () => {
  it('reaches each device of its person, encrypted for it, and nobody else', async () => {
    const phone = await subscribe(owner, '/phone')
    const desk = await subscribe(owner, '/desk')
    await subscribe(staff, '/staff')
    expect(await push(server.ownerEmail.toUpperCase())).toEqual({ sent: 2, ended: 0, failed: 0 })
    expect(received.map(({ path }) => path).sort()).toEqual(['/desk', '/phone'])
    for (const { path, body, headers } of received) {
      expect(JSON.parse(decryptPush(body, path === '/phone' ? phone : desk))).toEqual(CONTENT)
      const key = (await owner('GET', '/v1/push/key')).body.publicKey
      expect(headers.authorization).toContain(`k=${key}`)
      expect(headers['content-length']).toBe(String(body.length))
    }
    for (const path of ['/phone', '/desk']) await end(owner, path)
    await end(staff, '/staff')
  })

  it('to a subscription that has ended forgets it; one that failed stays', async () => {
    for (const path of ['/ended', '/gone', '/busy', '/good']) await subscribe(owner, path)
    answers = { '/ended': 404, '/gone': 410, '/busy': 503 }
    expect(await push()).toEqual({ sent: 1, ended: 2, failed: 1 })
    answers = {}
    expect(await push()).toEqual({ sent: 2, ended: 0, failed: 0 })
    for (const path of ['/busy', '/good']) await end(owner, path)
    expect(await push()).toEqual({ sent: 0, ended: 0, failed: 0 })
  })

  it('goes to whoever subscribed in a browser last', async () => {
    await subscribe(owner, '/shared')
    const browser = await subscribe(staff, '/shared')
    expect(await push()).toEqual({ sent: 0, ended: 0, failed: 0 })
    expect(await push('staff@example.org')).toEqual({ sent: 1, ended: 0, failed: 0 })
    expect(JSON.parse(decryptPush(received[0]!.body, browser)).title).toBe('Wren')
    expect((await end(owner, '/shared')).status).toBe(204)
    expect(await push('staff@example.org')).toEqual({ sent: 1, ended: 0, failed: 0 })
    await end(staff, '/shared')
  })

  // A lost phone shows it while it is locked.
  it('reaches no device that its person has signed out from another one', async () => {
    const signedIn = async (path: string) => {
      const person = askAs(server, await server.signIn('manager@example.org'))
      await subscribe(person, path)
      const { items } = (await person('GET', '/v1/me/sessions')).body
      return { person, id: items.find(({ current }: { current: boolean }) => current).id }
    }
    const reached = async () => {
      received = []
      await push('manager@example.org')
      return received.map(({ path }) => path).sort()
    }
    const [desk, lost] = [await signedIn('/desk'), await signedIn('/lost')]
    await signedIn('/other')
    await subscribe(staff, '/staff')
    expect((await desk.person('DELETE', `/v1/me/sessions/${lost.id}`)).status).toBe(204)
    expect(await reached()).toEqual(['/desk', '/other'])
    await desk.person('POST', '/v1/me/sessions/end', { which: 'others' })
    expect(await reached()).toEqual(['/desk'])
    await desk.person('POST', '/v1/me/sessions/end', { which: 'all' })
    expect(await reached()).toEqual([])
    expect(await push('staff@example.org')).toEqual({ sent: 1, ended: 0, failed: 0 })
    await end(staff, '/staff')
  })

  it('is shown on trial, in the language that is asked for', async () => {
    const browser = await subscribe(owner, '/trial')
    const body = { endpoint: `${origin}/trial`, language: 'de' }
    const answer = await owner('POST', '/v1/me/push-subscriptions/trial', body)
    expect(answer.body).toEqual({ sent: 1, ended: 0, failed: 0 })
    expect(JSON.parse(decryptPush(received[0]!.body, browser))).toMatchObject({
      title: 'Mitteilungen sind an',
      lang: 'de',
    })
    expect((await staff('POST', '/v1/me/push-subscriptions/trial', body)).status).toBe(404)
    await end(owner, '/trial')
  })
})

describe('the key', () => {
  it('is made once, for all processes', async () => {
    const first = (await owner('GET', '/v1/push/key')).body.publicKey
    expect(Buffer.from(first, 'base64url')).toHaveLength(65)
    const other = await startTestServer({ database: server.database })
    const asOther = askAs(other, await other.actorOf('staff'))
    expect((await asOther('GET', '/v1/push/key')).body.publicKey).toBe(first)
    await other.app.close()
  })
})

describe('bad input', () => {
  const good = () => subscription('/bad').body
  it.each([
    ['an endpoint within', () => ({ ...good(), endpoint: 'https://10.0.0.1/x' }), 422, '#/endpoint'],
    ['an endpoint without encryption', () => ({ ...good(), endpoint: 'http://9.9.9.9/x' }), 422, '#/endpoint'],
    ['no endpoint', () => ({ keys: good().keys }), 400, '#/endpoint'],
    ['another kind of address', () => ({ ...good(), endpoint: 'file:///etc/passwd' }), 400, '#/endpoint'],
    ['a short key', () => ({ ...good(), keys: { ...good().keys, p256dh: 'BAAA' } }), 400, '#/keys/p256dh'],
    ['a short secret', () => ({ ...good(), keys: { ...good().keys, auth: 'AA' } }), 400, '#/keys/auth'],
  ])('%s is refused', async (_, body, status, pointer) => {
    const answer = await owner('POST', '/v1/me/push-subscriptions', body())
    expect(answer.status).toBe(status)
    expect(answer.body.errors[0].pointer).toBe(pointer)
  })

  it('that is no point of the curve is a failure of that device alone', async () => {
    const { body } = subscription('/off-curve')
    const p256dh = Buffer.concat([Buffer.from([4]), Buffer.alloc(64, 7)]).toString('base64url')
    const answer = await owner('POST', '/v1/me/push-subscriptions', { ...body, keys: { ...body.keys, p256dh } })
    expect(answer.status).toBe(422)
    expect(answer.body.errors[0].pointer).toBe('#/keys/p256dh')
  })

  it('of a program is refused: it has no browser', async () => {
    expect((await program('POST', '/v1/me/push-subscriptions', good())).status).toBe(404)
  })
})
