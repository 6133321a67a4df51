import { createServer, type IncomingHttpHeaders, type Server } from 'node:http'
import { Webhook } from 'standardwebhooks'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { inOrganisation } from '../../src/db/in-organisation.js'
import { emitWebhookEvent } from '../../src/services/webhooks/emit.js'
import { type Ask, askAs, basedOn } from './ask.js'
import { expectProblem } from './problem-schema.js'
import { startTestServer, type TestServer } from './server.js'

interface Received {
  readonly headers: IncomingHttpHeaders
  readonly body: string
}

const HOUR_MS = 3_600_000
let server: TestServer
let ask: Ask
let receiver: Server
let address: string
let received: Received[] = []
let answers: { status: number; body?: string; before?: () => Promise<unknown> } = { status: 200 }
/** How far the service's clock is ahead. */
let aheadMs = 0

beforeAll(async () => {
  server = await startTestServer({ networks: ['127.0.0.1'], now: () => new Date(Date.now() + 1_000 + aheadMs) })
  ask = askAs(server, await server.actorOf('administrator'))
  receiver = createServer((request, response) => {
    const chunks: Buffer[] = []
    request.on('data', (chunk: Buffer) => chunks.push(chunk))
    request.on('end', async () => {
      await answers.before?.()
      received.push({ headers: request.headers, body: Buffer.concat(chunks).toString() })
      response.writeHead(answers.status).end(answers.body)
    })
  })
  await new Promise<void>((done) => receiver.listen(0, '127.0.0.1', done))
  const at = receiver.address()
  address = `http://127.0.0.1:${typeof at === 'object' && at ? at.port : 0}/in`
})
afterAll(async () => {
  receiver.close()
  await server.close()
})
beforeEach(() => {
  received = []
  answers = { status: 200 }
  aheadMs = 0
})
afterEach(async () => {
  const { body } = await ask('GET', '/v1/webhooks')
  for (const { id } of body.items) await ask('DELETE', `/v1/webhooks/${id}`, undefined, basedOn(await read(id)))
})

const read = (id: string) => ask('GET', `/v1/webhooks/${id}`)
const make = async (events = ['finding.opened']) =>
  (await ask('POST', '/v1/webhooks', { name: 'Office', url: address, events })).body as { id: string; secret: string }
const emit = (boat: string) =>
  inOrganisation(server.database.service, { organisationId: server.organisationId, actor: 'test' }, (tx) =>
    emitWebhookEvent(tx, server.organisationId, { event: 'finding.opened', data: { boat } }),
  )
const deliver = async () => {
  while ((await server.services.webhookDeliverer.deliverDue()) > 0);
}
const log = async (id: string) => (await ask('GET', `/v1/webhooks/${id}/deliveries`)).body.items

describe('an event', () => {
  it('is sent signed to whoever listens for it, once', async () => {
    const { id, secret } = await make()
    await make(['haul-out.recorded'])
    await emit('Möwe; "Ann"\n')
    await deliver()
    await deliver()
    expect(received).toHaveLength(1)
    const [{ headers, body }] = received as [Received]
    const verified = new Webhook(secret).verify(body, headers as Record<string, string>)
    expect(verified).toMatchObject({ type: 'finding.opened', data: { boat: 'Möwe; "Ann"\n' } })
    const [delivery] = await log(id)
    expect(delivery).toMatchObject({
      event: 'finding.opened',
      eventId: headers['webhook-id'],
      state: 'delivered',
      attempts: 1,
      nextAttemptAt: null,
      lastAttempt: { answered: 200, failure: null },
    })
    const detail = await ask('GET', `/v1/webhooks/${id}/deliveries/${delivery.id}`)
    expect(detail.body.body).toBe(body)
    expect(detail.body.history).toHaveLength(1)
  })

  it('that is rolled back is told to nobody', async () => {
    const { id } = await make()
    const acting = { organisationId: server.organisationId, actor: 'test' }
    const work = inOrganisation(server.database.service, acting, async (tx) => {
      await emitWebhookEvent(tx, server.organisationId, { event: 'finding.opened', data: {} })
      throw new Error('rolled back')
    })
    await expect(work).rejects.toThrow('rolled back')
    await deliver()
    expect(received).toEqual([])
    expect(await log(id)).toEqual([])
  })

  it('is tried again, later each time, with the same id and a new time, and given up in the end', async () => {
    const { id } = await make()
    answers = { status: 503, body: 'we are <closed>' }
    await emit('Wren')
    const waits: number[] = []
    for (let tries = 1; tries <= 12; tries++) {
      await deliver()
      const [delivery] = await log(id)
      expect(delivery.lastAttempt).toMatchObject({ answered: 503, answerStart: 'we are <closed>' })
      if (delivery.state === 'failed') break
      const wait = new Date(delivery.nextAttemptAt).getTime() - (Date.now() + 1_000 + aheadMs)
      waits.push(Math.round(wait / 1000))
      aheadMs += wait - 5_000
      await deliver()
      expect(received).toHaveLength(tries)
      aheadMs += 10_000
    }
    expect(received).toHaveLength(10)
    expect(waits.every((wait, index) => index === 0 || wait >= waits[index - 1]! - 5)).toBe(true)
    expect(new Set(received.map(({ headers }) => headers['webhook-id'])).size).toBe(1)
    expect(new Set(received.map(({ headers }) => headers['webhook-timestamp'])).size).toBe(10)
    expect((await log(id))[0]).toMatchObject({ state: 'failed', attempts: 10, nextAttemptAt: null })
    expect((await read(id)).body).toMatchObject({ enabled: true })
    expect((await read(id)).body.failingSince).not.toBeNull()
  })

  it('that failed is sent again by hand, and then arrives', async () => {
    const { id, secret } = await make()
    answers = { status: 500 }
    await emit('Wren')
    await deliver()
    answers = { status: 204 }
    const [failed] = await log(id)
    const replayed = await ask('POST', `/v1/webhooks/${id}/deliveries/${failed.id}/replay`)
    expect(replayed.status).toBe(202)
    await deliver()
    expect((await log(id))[0]).toMatchObject({ state: 'delivered', attempts: 1, lastAttempt: { answered: 204 } })
    const detail = await ask('GET', `/v1/webhooks/${id}/deliveries/${failed.id}`)
    expect(detail.body.history.map(({ answered }: { answered: number }) => answered)).toEqual([500, 204])
    expect(received[0]!.headers['webhook-id']).toBe(received[1]!.headers['webhook-id'])
    const headers = received[1]!.headers as Record<string, string>
    expect(() => new Webhook(secret).verify(received[1]!.body, headers)).not.toThrow()
    expect((await read(id)).body.failingSince).toBeNull()
  })

  it('goes to one of several senders', async () => {
    await make()
    for (let index = 0; index < 30; index++) await emit(`Boat ${index}`)
    const senders = Array.from({ length: 4 }, () => deliver())
    await Promise.all(senders)
    const boats = received.map(({ body }) => JSON.parse(body).data.boat)
    expect(boats).toHaveLength(30)
    expect(new Set(boats).size).toBe(30)
  })

  it('whose sender was lost is sent by another after a minute', async () => {
    const { id } = await make()
    await emit('Wren')
    const { claimDeliveries } = await import('../../src/db/repositories/webhook-deliveries.js')
    const now = new Date(Date.now() + 1_000 + aheadMs)
    const leaseUntil = new Date(now.getTime() + 60_000)
    expect(await claimDeliveries(server.database.db, { now, leaseUntil, most: 10 })).toHaveLength(1)
    await deliver()
    expect(received).toEqual([])
    aheadMs += 61_000
    await deliver()
    expect(received).toHaveLength(1)
    expect((await log(id))[0]).toMatchObject({ state: 'delivered', attempts: 2 })
  })
})

describe('an endpoint', () => {
  it('that is deleted while it answers is no trouble to the others', async () => {
    const { id } = await make()
    const other = await make()
    answers = {
      status: 200,
      before: async () => {
        answers = { status: 200 }
        await ask('DELETE', `/v1/webhooks/${id}`, undefined, basedOn(await read(id)))
      },
    }
    await emit('Wren')
    await deliver()
    expect(received).toHaveLength(2)
    expect((await log(other.id))[0]).toMatchObject({ state: 'delivered' })
  })

  it('that took nothing for five days is switched off, and on again by hand', async () => {
    const { id } = await make()
    answers = { status: 500 }
    await emit('Wren')
    await deliver()
    aheadMs += 121 * HOUR_MS
    await deliver()
    expect((await read(id)).body).toMatchObject({ enabled: false, disabledBecause: 'failed-too-long' })
    await emit('told to nobody')
    expect(await log(id)).toHaveLength(1)
    expectProblemBody(await ask('POST', `/v1/webhooks/${id}/trial`), 409, 'switched off')
    answers = { status: 200 }
    const on = await ask('PATCH', `/v1/webhooks/${id}`, { enabled: true }, basedOn(await read(id)))
    expect(on.body).toMatchObject({ enabled: true, disabledBecause: null, failingSince: null })
    aheadMs += HOUR_MS
    await deliver()
    expect((await log(id))[0]).toMatchObject({ state: 'delivered' })
  })

  it('that answers 410 is switched off at once', async () => {
    const { id } = await make()
    answers = { status: 410 }
    await emit('Wren')
    await deliver()
    expect((await read(id)).body).toMatchObject({ enabled: false, disabledBecause: 'gone' })
  })

  it('gets a new secret, and for a day both sign', async () => {
    const { id, secret: older } = await make()
    const rotated = await ask('POST', `/v1/webhooks/${id}/secret`, undefined, basedOn(await read(id)))
    const newer = rotated.body.secret
    expect(newer).not.toBe(older)
    await emit('Wren')
    await deliver()
    aheadMs += 24 * HOUR_MS + 60_000
    await emit('Tern')
    await deliver()
    const signatures = received.map(({ headers }) => String(headers['webhook-signature']).split(' ').length)
    expect(signatures).toEqual([2, 1])
    const headers = received[0]!.headers as Record<string, string>
    for (const secret of [older, newer])
      expect(() => new Webhook(secret).verify(received[0]!.body, headers)).not.toThrow()
    expect((await read(id)).body).not.toHaveProperty('secret')
  })

  it('is sent a trial on demand', async () => {
    const { id } = await make()
    expect((await ask('POST', `/v1/webhooks/${id}/trial`)).status).toBe(202)
    await deliver()
    expect(JSON.parse(received[0]!.body)).toMatchObject({ type: 'trial', data: { webhook: 'Office' } })
  })

  it('does not have its secret kept for a repeated request', async () => {
    const body = { name: 'Twice', url: address, events: ['notice.sent'] }
    const key = { 'idempotency-key': 'webhook-once' }
    const first = await ask('POST', '/v1/webhooks', body, key)
    const again = await ask('POST', '/v1/webhooks', body, key)
    expect(first.body.secret).toMatch(/^whsec_/)
    expect(again.body).toMatchObject({ id: first.body.id, secret: null })
  })
})

describe('bad input', () => {
  it.each([
    [{ url: 'http://127.0.0.2/' }, 422, '#/url', 'not in the public network'],
    [{ url: 'http://10.1.2.3/' }, 422, '#/url', 'not in the public network'],
    [{ url: 'https://[::1]/' }, 422, '#/url', 'not in the public network'],
    [{ url: 'http://9.9.9.9/' }, 422, '#/url', 'https only'],
    [{ url: 'ftp://office.example.org/' }, 400, '#/url', 'http or https'],
    [{ url: 'https://ada:pw@office.example.org/' }, 400, '#/url', 'no user name'],
    [{ url: 'office' }, 400, '#/url', 'http or https'],
    [{ events: [] }, 400, '#/events', ''],
    [{ events: ['boat.sunk'] }, 400, '#/events/0', ''],
    [{ name: ' ' }, 400, '#/name', ''],
    [{ secret: 'mine' }, 400, '', ''],
  ])('%j is refused, and nothing is written', async (wrong, status, pointer, detail) => {
    const body = { name: 'Office', url: address, events: ['finding.opened'], ...wrong }
    const answer = await ask('POST', '/v1/webhooks', body)
    expect(answer.status, JSON.stringify(answer.body)).toBe(status)
    expect(JSON.stringify(answer.body.errors)).toContain(detail)
    if (pointer !== '') expect(answer.body.errors[0].pointer).toBe(pointer)
    expect((await ask('GET', '/v1/webhooks')).body.items).toEqual([])
  })

  it('is not changed on the word of an old reading', async () => {
    const { id } = await make()
    const before = await read(id)
    expect((await ask('PATCH', `/v1/webhooks/${id}`, { name: 'A' }, basedOn(before))).status).toBe(200)
    expect((await ask('PATCH', `/v1/webhooks/${id}`, { name: 'B' }, basedOn(before))).status).toBe(412)
    expect((await ask('PATCH', `/v1/webhooks/${id}`, { name: 'B' })).status).toBe(428)
  })

  it('of another organisation is not found', async () => {
    const { id } = await make()
    const other = await startTestServer({ database: server.database })
    const asOther = askAs(other, await other.actorOf('administrator'))
    expect((await asOther('GET', `/v1/webhooks/${id}`)).status).toBe(404)
    expect((await asOther('POST', `/v1/webhooks/${id}/trial`)).status).toBe(404)
    expect((await asOther('GET', `/v1/webhooks/${id}/deliveries`)).status).toBe(404)
    await other.close()
  })

  it('of a manager is refused', async () => {
    const headers = await server.actorOf('manager')
    expectProblem(await server.app.inject({ method: 'GET', url: '/v1/webhooks', headers }), 403)
  })
})

function expectProblemBody(answer: { status: number; body: { detail: string } }, status: number, detail: string) {
  expect(answer.status).toBe(status)
  expect(answer.body.detail).toContain(detail)
}
