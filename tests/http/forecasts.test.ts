import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ForecastItem } from '../../src/contract/forecasts.js'
import { forecastsOfFit, newestFit } from '../../src/db/repositories/forecasts.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../src/services/model/refit.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

const TODAY = '2026-06-15'
const engine = new FittedFleets()

let server: TestServer
let manager: Ask
let owner: Ask
let staff: Ask
const now = new Date(`${TODAY}T10:00:00Z`)

const refit = () =>
  new RefitService(server.database.service, engine, () => now, 0).refit(server.organisationId, async () => {})

beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  manager = askAs(server, await server.actorOf('manager'))
  staff = askAs(server, await server.actorOf('staff'))
  owner = askAs(server, await server.actorOf('owner'))
  await importFleet(server, fleetFiles(server.ownerEmail))
})
afterAll(() => server.close())

describe('forecasts', () => {
  it('are computed where no refit has issued them yet, and the model says so', async () => {
    expect((await manager('GET', '/v1/model')).status).toBe(404)
    const { body } = await manager('GET', '/v1/forecasts')
    expect(body.items).toHaveLength(24)
  })

  it('are served as the refit issued them, with everything the contract names', async () => {
    await refit()
    const { body } = await manager('GET', '/v1/forecasts?boat=Boat%20A')
    const shaft = body.items.find((item: { position: string }) => item.position === 'shaft')
    expect(shaft).toMatchObject({
      boat: 'Boat A',
      anode: 'shaft 3',
      asOf: TODAY,
      threshold: 0.5,
      berth: 'N1',
      alloy: 'zinc',
    })
    expect(shaft.nextHaulOut).toEqual({ on: '2026-09-01', planned: true })
    expect(shaft.haulOutRisks).toEqual([{ on: '2026-09-01', risk: shaft.riskBeforeNextHaulOut }])
    const { p05, p10, p50, p90, p95 } = shaft.replace
    expect([p05, p10, p50, p90, p95]).toEqual([p05, p10, p50, p90, p95].sort())
    // 384 g went in the 352 days to the weighing: the remaining 116 g take some 106 days more, until early July 2026.
    expect(p50 > '2026-06-10' && p50 < '2026-08-01').toBe(true)
    expect(shaft.massNow.p10).toBeLessThan(shaft.massNow.p90)
    expect(shaft.riskBeforeNextHaulOut).toBeGreaterThan(0.5)
    const { physics, fleet, boat, anode } = shaft.basis
    expect(physics + fleet + boat + anode).toBeCloseTo(1, 9)
  })

  it('that an older version issued have the risk of the next lift alone', async () => {
    const { db } = server.database
    await db.execute(sql`update forecasts set item = item - 'haulOutRisks'`)
    const fit = await newestFit(db, server.organisationId)
    const issued = await forecastsOfFit(db, server.organisationId, fit!.id)
    expect(issued).toHaveLength(24)
    for (const { item } of issued) {
      const { on } = item.nextHaulOut
      const known = item.boat === 'Boat A' ? [{ on, risk: item.riskBeforeNextHaulOut }] : []
      expect(item.haulOutRisks).toEqual(known)
      expect(ForecastItem.safeParse(item).success).toBe(true)
    }
  })

  it('come in pages that give each anode once, in order', async () => {
    for (const sort of ['recommendedOn', '-risk', 'boat']) {
      const seen: { boat: string; anode: string; recommendedOn: string }[] = []
      let cursor = ''
      do {
        const { body } = await manager('GET', `/v1/forecasts?limit=7&sort=${sort}${cursor}`)
        seen.push(...body.items)
        cursor = body.nextCursor ? `&cursor=${body.nextCursor}` : ''
      } while (cursor)
      expect(new Set(seen.map(({ boat, anode }) => `${boat}/${anode}`)).size).toBe(24)
      expect(seen).toHaveLength(24)
      if (sort === 'recommendedOn') {
        const days = seen.map(({ recommendedOn }) => recommendedOn)
        expect([...days].sort()).toEqual(days)
      }
    }
    expect((await manager('GET', '/v1/forecasts?cursor=bm90IGEgY3Vyc29y')).status).toBe(400)
  })

  it("show an owner their own boats' alone", async () => {
    const { body } = await owner('GET', '/v1/forecasts')
    expect(new Set(body.items.map((item: { boat: string }) => item.boat))).toEqual(new Set(['Boat A']))
    expect((await owner('GET', '/v1/boats/Boat%20B/depletion')).status).toBe(404)
    expect((await owner('GET', '/v1/model')).status).toBe(403)
  })

  it('for a past day know only what was known by then', async () => {
    const { body } = await manager('GET', '/v1/forecasts?asOf=2025-01-01&boat=Boat%20A')
    expect(body.items.map((item: { anode: string }) => item.anode).sort()).toEqual(['hull 2', 'shaft 2'])
    const { p50 } = body.items[0].replace
    expect(p50 > '2025-01-01' && p50 < '2026-01-01').toBe(true)
  })

  it('for a day before anything was fitted are none', async () => {
    const { body } = await manager('GET', '/v1/forecasts?asOf=2020-01-01')
    expect(body).toEqual({ items: [], nextCursor: null })
  })
})

describe('the depletion of a boat', () => {
  it('has every anode with its weighings, and a curve from fitting past today for those in place', async () => {
    const { body } = await staff('GET', '/v1/boats/Boat%20C/depletion')
    expect(body.anodes).toHaveLength(6)
    const current = body.anodes.find((anode: { anode: string }) => anode.anode === 'hull 3')
    expect(current).toMatchObject({ fittedMassG: 1080, coreMassG: 80, thresholdMassG: 580 })
    expect(current.weighings).toHaveLength(1)
    expect(current.weighings[0].weight > 0 && current.weighings[0].weight <= 1).toBe(true)
    expect(current.curve[0].on).toBe('2025-04-02')
    expect(current.curve.at(-1).on > TODAY).toBe(true)
    expect(current.forecast.anode).toBe('hull 3')
    const replaced = body.anodes.find((anode: { anode: string }) => anode.anode === 'hull 1')
    expect(replaced).toMatchObject({ removedOn: '2024-04-03', curve: [], forecast: null })
  })
})
