import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Ask, askAs } from './ask.js'
import { refitNow } from './refitted-fleet.js'
import { startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

const NOW = new Date('2026-03-25T12:00:00Z')
const LIST = {
  currency: 'EUR',
  prices: [
    { kind: 'lift', since: '2020-01-01', amount: 200 },
    { kind: 'lift', since: '2026-01-01', amount: 240.5 },
    { kind: 'part', alloy: 'zinc', shape: null, massG: 1080, since: '2024-01-01', amount: 38.1 },
  ],
}
let server: TestServer
let manager: Ask
let owner: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => NOW })
  await importFleet(server, fleetFiles(server.ownerEmail))
  await refitNow(server, () => NOW)
  manager = askAs(server, await server.actorOf('manager'))
  owner = askAs(server, await server.actorOf('owner'))
})
afterAll(() => server.close())

const put = (body: object, version: number) => manager('PUT', '/v1/prices', body, { 'if-match': `"${version}"` })

describe('prices and costs', () => {
  it('are not known before anybody has said, and that is said', async () => {
    expect((await manager('GET', '/v1/prices')).body).toEqual({ currency: null, prices: [], version: 0 })
    const { body } = await manager('GET', '/v1/boats/Boat A/costs')
    expect(body.currency).toBeNull()
    expect(body.soFar).toMatchObject({ total: 0, unpriced: body.soFar.lines.length })
    expect(body.soFar.lines.length).toBeGreaterThan(5)
  })

  it('are replaced as a list, based on the one that was read', async () => {
    const saved = await put(LIST, 0)
    expect(saved).toMatchObject({ status: 200, etag: '"1"', body: { ...LIST, version: 1 } })
    expect((await put(LIST, 0)).status).toBe(412)
    expect((await manager('PUT', '/v1/prices', LIST)).status).toBe(428)
  })

  it('add up to what a boat has cost at the prices of the days, and what its next lift will cost', async () => {
    const { body } = await manager('GET', '/v1/boats/Boat A/costs')
    const fitted = body.soFar.lines.filter(({ kind }: { kind: string }) => kind === 'part')
    // Six anodes: two of 2023, before there was a price; four of 2024 and 2025 at 38.10.
    expect(fitted).toHaveLength(6)
    expect(body.soFar).toMatchObject({ total: 152.4, unpriced: 2 })
    expect(fitted[0]).toMatchObject({ on: '2025-04-02', alloy: 'zinc', massG: 1080, amount: 38.1 })
    expect(body.nextLift).toMatchObject({ on: '2026-09-01', planned: true, unpriced: 0 })
    const parts = body.nextLift.lines.length - 1
    expect(parts).toBeGreaterThan(0)
    expect(body.nextLift.total).toBeCloseTo(parts * 38.1 + 240.5, 9)
  })

  it('are told to an owner of their own boat alone, and changed by those who manage', async () => {
    expect((await owner('GET', '/v1/boats/Boat A/costs')).body.soFar.total).toBe(152.4)
    expect((await owner('GET', '/v1/boats/Boat B/costs')).status).toBe(404)
    expect((await owner('GET', '/v1/prices')).status).toBe(403)
    const staff = askAs(server, await server.actorOf('staff'))
    expect((await staff('GET', '/v1/prices')).status).toBe(200)
    expect((await staff('PUT', '/v1/prices', LIST, { 'if-match': '"1"' })).status).toBe(403)
  })

  it('are refused with the field and the reason, and nothing is half written', async () => {
    const [lift, , part] = LIST.prices
    const wrong: [object, number, string][] = [
      [{ ...LIST, currency: 'euro' }, 400, '#/currency'],
      [{ ...LIST, prices: [{ ...lift, amount: -1 }] }, 400, '#/prices/0/amount'],
      [{ ...LIST, prices: [{ ...lift, amount: 1.005 }] }, 400, '#/prices/0/amount'],
      [{ ...LIST, prices: [{ ...lift, amount: 1e9 }] }, 400, '#/prices/0/amount'],
      [{ ...LIST, prices: [{ ...part, massG: 0 }] }, 400, '#/prices/0/massG'],
      [{ ...LIST, prices: [{ ...part, since: '2026-02-30' }] }, 400, '#/prices/0/since'],
      [{ ...LIST, prices: [part, lift, { ...part, amount: 1 }] }, 422, '#/prices/2/since'],
      [{ ...LIST, prices: [{ ...lift, alloy: 'zinc' }] }, 400, '#/prices/0/alloy'],
    ]
    for (const [body, status, pointer] of wrong) {
      const answer = await put(body, 1)
      expect([answer.status, answer.body.errors?.[0]?.pointer], JSON.stringify(body)).toEqual([status, pointer])
    }
    expect((await manager('GET', '/v1/prices')).body).toEqual({ ...LIST, version: 1 })
  })
})
