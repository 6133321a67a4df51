import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { forecastFleet } from '../../src/engine/forecast/fleet-forecast.js'
import { addDays } from '../../src/services/dates/not-in-future.js'
import { RefitService } from '../../src/services/model/refit.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

const TODAY = '2026-06-15'
const engine = { compute: async (...given: Parameters<typeof forecastFleet>) => forecastFleet(...given) }

let server: TestServer
let manager: Ask
let owner: Ask
let staff: Ask
let now = new Date(`${TODAY}T10:00:00Z`)

/** Twelve boats at four berths, each with two anodes replaced yearly; the first boat belongs to the test's owner. */
function fleetFiles(ownerEmail: string): Record<string, string> {
  const boats = Array.from({ length: 12 }, (_, index) => `Boat ${String.fromCharCode(65 + index)}`)
  const files: Record<string, string[]> = {
    'berths.csv': ['berth,water', ...['N1', 'N2', 'N3', 'N4'].map((berth) => `${berth},salt`)],
    'boats.csv': ['boat,owner_name,owner_email'],
    'stays.csv': ['boat,from,to,berth'],
    'anodes.csv': ['boat,anode,position,alloy,fitted_on,removed_on,gross_mass_g,core_mass_g'],
    'weighings.csv': ['boat,anode,weighed_on,mass_g,resolution_g,cleaned'],
    'haul-outs.csv': ['boat,on,planned', 'Boat A,2026-09-01,yes'],
  }
  boats.forEach((boat, index) => {
    files['boats.csv']!.push(`${boat},Somebody,${index === 0 ? ownerEmail : 'other@example.org'}`)
    files['stays.csv']!.push(`${boat},2023-03-01,,N${1 + (index % 4)}`)
    for (const position of ['shaft', 'hull']) {
      const fitted = ['2023-04-01', '2024-04-03', '2025-04-02']
      fitted.forEach((day, life) => {
        const removed = fitted[life + 1] ?? ''
        files['anodes.csv']!.push(`${boat},${position} ${life + 1},${position},zinc,${day},${removed},1080,80`)
        const loss = 300 + 25 * index + 12 * life + (position === 'shaft' ? 60 : 0)
        files['weighings.csv']!.push(`${boat},${position} ${life + 1},${removed || '2026-03-20'},${1080 - loss},1,yes`)
      })
    }
  })
  return Object.fromEntries(Object.entries(files).map(([name, lines]) => [name, `${lines.join('\n')}\n`]))
}

async function importFleet(files: Record<string, string>): Promise<void> {
  const form = new FormData()
  for (const [name, text] of Object.entries(files)) form.append('file', new Blob([text]), name)
  const body = new Response(form)
  const answer = await server.app.inject({
    method: 'POST',
    url: '/v1/imports',
    headers: { ...(await server.actorOf('manager')), 'content-type': body.headers.get('content-type') ?? '' },
    payload: Buffer.from(await body.arrayBuffer()),
  })
  expect(answer.statusCode, answer.body).toBe(200)
}

const refit = () => new RefitService(server.database.db, engine, () => now).refit(server.organisationId, async () => {})

beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  manager = askAs(server, await server.actorOf('manager'))
  staff = askAs(server, await server.actorOf('staff'))
  owner = askAs(server, await server.actorOf('owner'))
  await importFleet(fleetFiles(server.ownerEmail))
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
    const { p05, p10, p50, p90, p95 } = shaft.replace
    expect([p05, p10, p50, p90, p95]).toEqual([p05, p10, p50, p90, p95].sort())
    // 384 g went in the 352 days to the weighing: the remaining 116 g take some 106 days more, until early July 2026.
    expect(p50 > '2026-06-10' && p50 < '2026-08-01').toBe(true)
    expect(shaft.massNow.p10).toBeLessThan(shaft.massNow.p90)
    expect(shaft.riskBeforeNextHaulOut).toBeGreaterThan(0.5)
    const { physics, fleet, boat, anode } = shaft.basis
    expect(physics + fleet + boat + anode).toBeCloseTo(1, 9)
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
    expect(current.curve[0].on).toBe('2025-04-02')
    expect(current.curve.at(-1).on > TODAY).toBe(true)
    expect(current.forecast.anode).toBe('hull 3')
    const replaced = body.anodes.find((anode: { anode: string }) => anode.anode === 'hull 1')
    expect(replaced).toMatchObject({ removedOn: '2024-04-03', curve: [], forecast: null })
  })
})

describe('the model', () => {
  it('tells its components, its effects and how many intervals it rests on', async () => {
    const { body } = await staff('GET', '/v1/model')
    expect(body).toMatchObject({ asOf: TODAY, intervals: 72, boats: 12 })
    expect(Object.keys(body.variances).sort()).toEqual(['anode', 'berth', 'boat', 'residual'])
    expect(body.boatEffects).toHaveLength(12)
    expect(body.calibration).toMatchObject({ scored: 0, meanScore: null })
  })

  it('scores the forecasts it issued when the anodes are weighed later', async () => {
    const later = addDays(TODAY, 60)
    now = new Date(`${later}T10:00:00Z`)
    const { body } = await manager('GET', '/v1/forecasts?asOf=2026-06-15')
    const forecast = body.items.find((item: { boat: string }) => item.boat === 'Boat D')
    const massG = Math.round(forecast.massNow.p50 - 60 * forecast.rate.p50)
    const path = `/v1/boats/Boat%20D/anodes/${encodeURIComponent(forecast.anode)}/weighings`
    const weighed = await staff('POST', path, {
      weighedOn: later,
      method: 'scale',
      massG,
      resolutionG: 1,
      cleaned: true,
    })
    expect(weighed.status, JSON.stringify(weighed.body)).toBe(201)
    await refit()
    const model = await staff('GET', '/v1/model')
    expect(model.body.calibration.scored).toBe(1)
    expect(model.body.calibration.coverage).toEqual([
      { level: 0.8, share: 1 },
      { level: 0.9, share: 1 },
    ])
    expect(Math.abs(model.body.calibration.meanScore)).toBeLessThan(1.2)
  })
})
