import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { BoatUpdate } from '../../src/services/model/boat-update.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../src/services/model/refit.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

const TODAY = '2026-06-15'
const now = () => new Date(`${TODAY}T10:00:00Z`)
const engine = new FittedFleets()

let server: TestServer
let staff: Ask
let owner: Ask

beforeAll(async () => {
  server = await startTestServer({ now })
  staff = askAs(server, await server.actorOf('staff'))
  owner = askAs(server, await server.actorOf('owner'))
  await importFleet(server, fleetFiles(server.ownerEmail))
})
afterAll(() => server.close())

describe('what if', () => {
  const ask = (body: object, by: Ask = staff, boat = 'Boat A') =>
    by('POST', `/v1/boats/${encodeURIComponent(boat)}/what-if`, body)

  it('sets the dates of a stay ashore beside those of today', async () => {
    const { status, body } = await ask({ stays: [{ fromOn: '2026-06-20', toOn: '2026-12-20', berth: null }] })
    expect(status, JSON.stringify(body)).toBe(200)
    expect(body).toMatchObject({ boat: 'Boat A', asOf: TODAY })
    expect(body.anodes).toHaveLength(2)
    for (const { now: asIs, planned } of body.anodes) {
      expect(planned.replace.p90 > asIs.replace.p90).toBe(true)
      expect(planned.massNow).toEqual(asIs.massNow)
    }
  })

  it('changes nothing where nothing is planned', async () => {
    const { body } = await ask({})
    for (const { now: asIs, planned } of body.anodes) expect(planned).toEqual(asIs)
  })

  it('takes a lift into the recommendation', async () => {
    const { body } = await ask({ haulOuts: ['2026-06-25'] })
    for (const { now: asIs, planned } of body.anodes) {
      expect(planned.nextHaulOut).toEqual({ on: '2026-06-25', planned: true })
      const [first, second] = planned.haulOutRisks
      expect(first).toEqual({ on: '2026-06-25', risk: planned.riskBeforeNextHaulOut })
      expect(second).toEqual({ on: '2026-09-01', risk: expect.closeTo(asIs.riskBeforeNextHaulOut, 9) })
    }
  })

  it('names what cannot be planned', async () => {
    const { status, body } = await ask({
      stays: [
        { fromOn: '2026-06-01', toOn: '2026-08-01', berth: 'N1' },
        { fromOn: '2026-07-01', toOn: '2026-06-01', berth: 'nowhere' },
      ],
      haulOuts: ['2020-01-01'],
    })
    expect(status).toBe(422)
    expect(body.errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual([
      '#/stays/0/fromOn',
      '#/stays/1/toOn',
      '#/stays/1/fromOn',
      '#/stays/1/berth',
      '#/haulOuts/0',
    ])
  })

  it('is for an owner about their own boats alone', async () => {
    expect((await ask({}, owner)).status).toBe(200)
    expect((await ask({}, owner, 'Boat B')).status).toBe(404)
  })
})

describe('the boats that were just weighed', () => {
  it('have new dates before the refit, which agrees with them', async () => {
    const { service: db } = server.database
    const refits = new RefitService(db, engine, now)
    const updates = new BoatUpdate(db, engine, now)
    await refits.refit(server.organisationId, async () => {})
    expect(await updates.update(server.organisationId)).toBe(false)
    const hull = async () => {
      const { body } = await staff('GET', '/v1/forecasts?boat=Boat%20E')
      return body.items.find(({ position }: { position: string }) => position === 'hull')
    }
    const before = await hull()
    const weighed = await staff('POST', '/v1/boats/Boat%20E/anodes/hull%203/weighings', {
      weighedOn: TODAY,
      method: 'scale',
      massG: Math.round(before.massNow.p50 - 60),
      resolutionG: 1,
      cleaned: true,
    })
    expect(weighed.status, JSON.stringify(weighed.body)).toBe(201)
    expect(await updates.update(server.organisationId)).toBe(true)
    const quick = await hull()
    expect(quick.replace.p50 < before.replace.p50).toBe(true)
    await refits.refit(server.organisationId, async () => {})
    const full = await hull()
    const days = (a: string, b: string) => Math.abs(Date.parse(a) - Date.parse(b)) / 86_400_000
    expect(days(quick.replace.p50, full.replace.p50)).toBeLessThanOrEqual(
      1 + 0.1 * days(full.replace.p10, full.replace.p90),
    )
  })

  it('wait for the refit where a boat has moved', async () => {
    const moved = await staff('POST', '/v1/boats/Boat%20F/stays', { berth: 'N4', fromOn: TODAY, closeOpenStay: true })
    expect(moved.status, JSON.stringify(moved.body)).toBe(201)
    expect(await new BoatUpdate(server.database.service, engine, now).update(server.organisationId)).toBe(false)
  })
})
