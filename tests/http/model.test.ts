import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addDays } from '../../src/services/dates/not-in-future.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { quartersBefore } from '../../src/services/model/hindsight.js'
import { RefitService } from '../../src/services/model/refit.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

const TODAY = '2026-06-15'
/** Of the small fleet: 24 anodes in place, each the third at its place, weighed on 2025-04-02 and 2026-03-20 within two years. */
const ANODES = 24

/** The engine, with what it was asked for, which may break off. */
class CountingEngine extends FittedFleets {
  readonly days: number[] = []
  breaksAfter = Infinity

  override async compute(...given: Parameters<FittedFleets['compute']>) {
    if (this.days.length >= this.breaksAfter) throw new Error('the process was stopped')
    this.days.push(given[0].asOf)
    return super.compute(...given)
  }
}

let server: TestServer
let staff: Ask
let now = new Date(`${TODAY}T10:00:00Z`)

const refitWith = (engine: FittedFleets, lookBackLimitMs = Infinity) =>
  new RefitService(server.database.service, engine, () => now, lookBackLimitMs).refit(
    server.organisationId,
    async () => {},
  )

beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  staff = askAs(server, await server.actorOf('staff'))
  await importFleet(server, fleetFiles(server.ownerEmail))
})
afterAll(() => server.close())

describe('the model', () => {
  it('is not there before the first fit, and never for owners', async () => {
    expect((await staff('GET', '/v1/model')).status).toBe(404)
    const owner = askAs(server, await server.actorOf('owner'))
    expect((await owner('GET', '/v1/model')).status).toBe(403)
  })

  it('is there without a look back where there is no time for one', async () => {
    const engine = new CountingEngine()
    await refitWith(engine, 0)
    expect(engine.days).toHaveLength(1)
    expect((await staff('GET', '/v1/model')).body.calibration.scored).toBe(0)
  })

  it('is there with the forecasts of today though the look back was broken off, and the look back goes on where it was', async () => {
    const engine = new CountingEngine()
    engine.breaksAfter = 3
    await expect(refitWith(engine)).rejects.toThrow('stopped')
    const broken = await staff('GET', '/v1/model')
    expect(broken.body).toMatchObject({ asOf: TODAY, calibration: { scored: 0, meanScore: null, biasG: null } })
    engine.breaksAfter = Infinity
    await refitWith(engine)
    // Today twice; the seven quarters from July 2024 on before whose weighings something was in place, each once.
    expect(engine.days).toHaveLength(2 + 7)
    expect(new Set(engine.days).size).toBe(1 + 7)
    await refitWith(engine)
    expect(engine.days).toHaveLength(3 + 7)
  })

  it('gives the same dates to the last bit whenever the same record is fitted, broken off before or not', async () => {
    const forecasts = async () => (await staff('GET', '/v1/forecasts?limit=1000')).body.items
    const before = await forecasts()
    const engine = new CountingEngine()
    engine.breaksAfter = 0
    await expect(refitWith(engine)).rejects.toThrow('stopped')
    expect(await forecasts()).toEqual(before)
    await refitWith(new CountingEngine())
    expect(await forecasts()).toEqual(before)
  })

  it('tells its components, its effects and how many intervals it rests on', async () => {
    const { body } = await staff('GET', '/v1/model')
    expect(body).toMatchObject({ asOf: TODAY, intervals: 72, boats: 12 })
    expect(Object.keys(body.variances).sort()).toEqual(['anode', 'berth', 'boat', 'place', 'residual'])
    expect(body.boatEffects).toHaveLength(12)
    expect(body.standouts).toHaveLength(body.standoutCount)
  })

  it('tells what speaks for each exponent, and leaves out what a fit of an older version did not tell', async () => {
    const told = { shape: 'bar', exponent: 0.5, anodes: 9, evidence: 2.5 }
    const laws = [{ exponent: 0, evidence: 0, probability: 1 }]
    const summary = JSON.stringify([told, { ...told, shape: 'disc', sd: 0.2, laws }])
    const set = (value: string) =>
      server.database.db.execute(
        sql`update model_fits set summary = jsonb_set(summary, '{exponents}', ${value}::jsonb)`,
      )
    await set(summary)
    const { body } = await staff('GET', '/v1/model')
    expect(body.exponents).toEqual([
      { ...told, sd: null, laws: [] },
      { ...told, shape: 'disc', sd: 0.2, laws },
    ])
    await set('[]')
  })

  it('judges by each weighing one forecast for each horizon, and says that they were made in hindsight', async () => {
    const { calibration } = (await staff('GET', '/v1/model')).body
    // Each of the two weighings has quarters 1 to 90, 90 to 180 and 180 to 365 days before it, and none farther within the anode's life.
    expect(calibration).toMatchObject({ weighings: 2 * ANODES, scored: 6 * ANODES, hindsight: 6 * ANODES })
    expect(calibration.byHorizon.map(({ scored }: { scored: number }) => scored)).toEqual([
      2 * ANODES,
      2 * ANODES,
      2 * ANODES,
      0,
    ])
    expect(calibration.byWater).toMatchObject([{ group: 'salt', scored: 6 * ANODES }])
    expect(calibration.byAlloy).toMatchObject([{ group: 'zinc', scored: 6 * ANODES }])
    const counts = calibration.reliability.map(({ count }: { count: number }) => count)
    expect(counts.reduce((sum: number, count: number) => sum + count, 0)).toBe(6 * ANODES)
    for (const { share, low, high } of calibration.coverage) expect(low <= share && share <= high).toBe(true)
  })

  it('serves forecasts that people have seen, not those of hindsight', async () => {
    const { body } = await staff('GET', '/v1/forecasts')
    expect(new Set(body.items.map(({ asOf }: { asOf: string }) => asOf))).toEqual(new Set([TODAY]))
  })

  it('prefers what was issued on its day to hindsight when the anode is weighed later', async () => {
    const forecasts = await staff('GET', '/v1/forecasts?boat=Boat%20D')
    const [forecast] = forecasts.body.items
    const later = addDays(TODAY, 60)
    now = new Date(`${later}T10:00:00Z`)
    const path = `/v1/boats/Boat%20D/anodes/${encodeURIComponent(forecast.anode)}/weighings`
    const massG = Math.round(forecast.massNow.p50 - 60 * forecast.rate.p50)
    const weighed = await staff('POST', path, {
      weighedOn: later,
      method: 'scale',
      massG,
      resolutionG: 1,
      cleaned: true,
    })
    expect(weighed.status, JSON.stringify(weighed.body)).toBe(201)
    await refitWith(new FittedFleets())
    const { calibration } = (await staff('GET', '/v1/model')).body
    // One for each of the four horizons; at 60 days the one of 15 June, though hindsight knows 1 July.
    expect(calibration).toMatchObject({
      weighings: 2 * ANODES + 1,
      scored: 6 * ANODES + 4,
      hindsight: 6 * ANODES + 3,
    })
    expect(calibration.byHorizon[3]).toMatchObject({ scored: 1 })
    // Weighed at the very middle of the last forecast: within its half, hardly any loss beyond it.
    expect(Math.abs(calibration.byHorizon[3].meanScore)).toBeLessThan(1.5)
  })
})

describe('quartersBefore', () => {
  it('are the first days of the eight quarters before a day, across years', () => {
    expect(quartersBefore('2031-01-01')).toEqual([
      '2030-10-01',
      '2030-07-01',
      '2030-04-01',
      '2030-01-01',
      '2029-10-01',
      '2029-07-01',
      '2029-04-01',
      '2029-01-01',
    ])
    expect(quartersBefore('2031-04-02')[0]).toBe('2031-04-01')
    expect(quartersBefore('2031-04-02')).toHaveLength(8)
  })
})
