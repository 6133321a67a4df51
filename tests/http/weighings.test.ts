import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Ask, askAs, basedOn } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
let ask: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date('2031-06-15T12:00:00Z') })
  ask = askAs(server, await server.actorOf('staff'))
})
afterAll(() => server.close())

/** A boat with one anode, 1250 g on a core of 80 g; gives the anode's weighings. */
async function anodeOf(boat: string, more: object = {}, owner: object = {}): Promise<string> {
  await ask('POST', '/v1/boats', { name: boat, ...owner })
  const anode = {
    name: 'shaft 1',
    position: 'shaft',
    fittedOn: '2030-06-01',
    grossMassG: 1250,
    coreMassG: 80,
    lengthMm: 100,
    ...more,
  }
  expect((await ask('POST', `/v1/boats/${boat}/anodes`, anode)).status).toBe(201)
  return `/v1/boats/${boat}/anodes/shaft 1/weighings`
}

const massesOf = async (url: string) =>
  (await ask('GET', url)).body.items.map((one: { massG: number | null }) => one.massG)

describe('a weighing', () => {
  it('is logged and read, with its net mass and its consumed fraction', async () => {
    const url = await anodeOf('Wren')
    const made = await ask('POST', url, {
      weighedOn: '2031-01-10',
      massG: { value: 0.665, unit: 'kg' },
      resolutionG: 5,
      cleaned: true,
      submergedMassG: { value: 0.57, unit: 'kg' },
      submergedIn: 'fresh',
      conditions: ['bright', 'sharp-edged'],
      note: '  by the lift  ',
    })
    expect(made.status).toBe(201)
    expect(made.headers.location).toBe(`/v1/weighings/${made.body.id}`)
    expect(made.body).toMatchObject({
      boat: 'Wren',
      anode: 'shaft 1',
      haulOutId: null,
      method: 'scale',
      massG: 665,
      // (665 − 80) of (1250 − 80) left: half.
      netMassG: 585,
      consumedFraction: 0.5,
      submergedMassG: 570,
      conditions: ['bright', 'sharp-edged'],
      note: 'by the lift',
    })
    expect((await ask('GET', `/v1/weighings/${made.body.id}`)).body).toEqual(made.body)
  })

  it('by eye and by calipers tells the share left without a scale', async () => {
    const url = await anodeOf('Seen')
    const eye = await ask('POST', url, { weighedOn: '2031-01-10', method: 'visual', wastedPercent: 30 })
    expect(eye.body.consumedFraction).toBeCloseTo(0.3, 12)
    expect(eye.body.netMassG).toBeCloseTo(0.7 * 1170, 9)
    const calipers = await ask('POST', url, { weighedOn: '2031-02-10', method: 'dimensions', lengthMm: 60 })
    expect(calipers.body).toMatchObject({ massG: null })
    expect(calipers.body.consumedFraction).toBeCloseTo(0.4, 12)
    const unknown = await ask('POST', url, { weighedOn: '2031-03-10', method: 'dimensions', widthMm: 60 })
    expect([unknown.status, unknown.body.errors[0].pointer]).toEqual([422, '#/widthMm'])
  })

  it.each([
    ['kilograms typed as grams', { massG: 1.2 }, '#/massG', 'looks-like-kilograms'],
    ['grams sent as kilograms', { massG: { value: 850, unit: 'kg' } }, '#/massG', 'looks-like-grams'],
    ['below the core', { massG: 70, resolutionG: 5 }, '#/massG', 'below-core'],
    ['in the future', { weighedOn: '2031-06-17' }, '#/weighedOn', 'in-future'],
    ['before the fitting', { weighedOn: '2030-05-31' }, '#/weighedOn', 'before-fitting'],
    ['heavier than when fitted', { massG: 1500 }, '#/massG', 'heavier-than-before'],
    ['without its mass', { massG: null }, '#/massG', 'missing'],
    ['by eye without a judgement', { method: 'visual' }, '#/wastedPercent', 'missing'],
    ['heavier in water than dry', { submergedMassG: 900 }, '#/submergedMassG', 'submerged-not-below-dry'],
  ])('%s is refused', async (why, wrong, pointer, code) => {
    const url = await anodeOf(`Refused ${why}`)
    const refused = await ask('POST', url, { weighedOn: '2031-01-10', massG: 700, cleaned: true, ...wrong })
    expect(refused.status).toBe(422)
    expect(refused.body.errors).toMatchObject([{ pointer, code }])
    expect(await massesOf(url)).toEqual([])
  })

  it('after the removal is refused, on its day accepted', async () => {
    const url = await anodeOf('Removed', { removedOn: '2031-02-01' })
    const late = await ask('POST', url, { weighedOn: '2031-02-02', massG: 700 })
    expect([late.status, late.body.errors[0].code]).toEqual([422, 'after-removal'])
    expect((await ask('POST', url, { weighedOn: '2031-02-01', massG: 700 })).status).toBe(201)
  })

  it('heavier than last time is accepted within the error, asked about beyond it, and accepted once confirmed', async () => {
    const url = await anodeOf('Heavier')
    const exact = { resolutionG: 5, cleaned: true }
    await ask('POST', url, { weighedOn: '2031-01-10', massG: 800, ...exact })
    expect((await ask('POST', url, { weighedOn: '2031-02-10', massG: 806, ...exact })).status).toBe(201)
    const doubtful = { weighedOn: '2031-03-10', massG: 986, ...exact }
    const asked = await ask('POST', url, doubtful)
    expect(asked.status).toBe(422)
    expect(asked.body.errors).toEqual([
      {
        pointer: '#/massG',
        code: 'heavier-than-before',
        detail: 'heavier by 180 g than on 2031-02-10: was the anode replaced? Log the replacement, or confirm',
      },
    ])
    expect((await ask('POST', url, { ...doubtful, confirm: ['looks-like-kilograms'] })).status).toBe(422)
    expect((await ask('POST', url, { ...doubtful, confirm: ['heavier-than-before'] })).status).toBe(201)
    expect((await ask('POST', url, { ...doubtful, confirm: ['below-core'] })).status).toBe(400)
    expect(await massesOf(url)).toEqual([800, 806, 986])
  })

  it('a second time on one day is a conflict', async () => {
    const url = await anodeOf('Again')
    await ask('POST', url, { weighedOn: '2031-01-10', massG: 700 })
    const again = await ask('POST', url, { weighedOn: '2031-01-10', massG: 690 })
    expect([again.status, again.body.code]).toEqual([409, 'weighed-already'])
  })

  it('is kept once when many say it at the same moment', async () => {
    const url = await anodeOf('Chorus')
    const answers = await Promise.all(
      Array.from({ length: 6 }, (_, index) => ask('POST', url, { weighedOn: '2031-01-10', massG: 700 + index })),
    )
    expect(answers.map((one) => one.status).sort()).toEqual([201, 409, 409, 409, 409, 409])
    expect(await massesOf(url)).toHaveLength(1)
  })
})

describe('a correction', () => {
  it('needs a reason and a version, and leaves a history of what became what', async () => {
    const url = await anodeOf('Corrected')
    const made = await ask('POST', url, { weighedOn: '2031-01-10', massG: 905, cleaned: true, conditions: ['even'] })
    const one = `/v1/weighings/${made.body.id}`
    expect((await ask('PATCH', one, { massG: 950 }, basedOn(made))).status).toBe(400)
    expect((await ask('PATCH', one, { massG: 950, reason: 'x' }, basedOn(made))).status).toBe(400)
    expect((await ask('PATCH', one, { massG: 950, reason: 'wrong line' })).status).toBe(428)

    const manager = askAs(server, await server.actorOf('manager'))
    const fixed = await manager(
      'PATCH',
      one,
      { massG: { value: 0.95, unit: 'kg' }, reason: 'wrong line' },
      basedOn(made),
    )
    expect(fixed.body).toMatchObject({ massG: 950, cleaned: true, conditions: ['even'], version: 2 })
    expect(fixed.body.refit).toMatchObject({ kind: 'refit' })
    expect((await ask('PATCH', one, { massG: 940, reason: 'wrong line' }, basedOn(made))).status).toBe(412)
    const moved = await ask('PATCH', one, { weighedOn: '2031-01-11', reason: 'the day after' }, basedOn(fixed))
    expect((await ask('DELETE', one, undefined, basedOn(moved))).status).toBe(400)
    expect((await ask('DELETE', `${one}?reason=wrong boat`, undefined, basedOn(moved))).status).toBe(204)
    expect((await ask('GET', one)).status).toBe(404)

    const { body } = await ask('GET', `${one}/history`)
    expect(body.items).toMatchObject([
      { by: 'key:test staff', action: 'insert', reason: null },
      {
        by: 'key:test manager',
        action: 'update',
        reason: 'wrong line',
        changes: [{ field: 'massG', from: 905, to: 950 }],
      },
      {
        by: 'key:test staff',
        action: 'update',
        reason: 'the day after',
        changes: [{ field: 'weighedOn', from: '2031-01-10', to: '2031-01-11' }],
      },
      { by: 'key:test staff', action: 'delete', reason: 'wrong boat' },
    ])
    expect(body.items[0].at).toMatch(/^\d{4}-\d\d-\d\dT.*Z$/)
  })

  it('is judged as a new weighing is, beside its neighbours', async () => {
    const url = await anodeOf('Judged')
    const scale = { resolutionG: 5, cleaned: true }
    const first = await ask('POST', url, { weighedOn: '2031-01-10', massG: 900, ...scale })
    await ask('POST', url, { weighedOn: '2031-02-10', massG: 800, ...scale })
    const correct = (change: object) =>
      ask('PATCH', `/v1/weighings/${first.body.id}`, { reason: 'weighed anew', ...change }, basedOn(first))
    expect((await correct({ massG: 600 })).body.errors).toMatchObject([{ code: 'lighter-than-later' }])
    expect((await correct({ massG: 70 })).body.errors).toMatchObject([{ code: 'below-core' }])
    expect((await correct({ weighedOn: '2031-02-10' })).status).toBe(409)
    expect((await correct({ method: 'visual' })).body.errors).toMatchObject([{ pointer: '#/wastedPercent' }])
    expect((await correct({ massG: 600, confirm: ['lighter-than-later'] })).status).toBe(200)
  })
})

describe('lists and owners', () => {
  it('filter by boat, anode, day and method, newest first when asked', async () => {
    const url = await anodeOf('Listed')
    await ask('POST', url, { weighedOn: '2031-01-10', massG: 900 })
    await ask('POST', url, { weighedOn: '2031-02-10', massG: 800 })
    await ask('POST', url, { weighedOn: '2031-03-10', method: 'visual', wastedPercent: 50 })
    const days = async (query: string) =>
      (await ask('GET', `/v1/weighings?boat=Listed&${query}`)).body.items.map(
        (one: { weighedOn: string }) => one.weighedOn,
      )
    expect(await days('sort=-weighedOn')).toEqual(['2031-03-10', '2031-02-10', '2031-01-10'])
    expect(await days('from=2031-01-11&to=2031-02-10&anode=shaft 1')).toEqual(['2031-02-10'])
    expect(await days('method=visual')).toEqual(['2031-03-10'])
    expect(await days('anode=rudder 1')).toEqual([])
    const next = await ask('GET', '/v1/weighings?boat=Listed&limit=2')
    expect(next.body.items).toHaveLength(2)
    expect(await days(`limit=2&cursor=${next.body.nextCursor}`)).toEqual(['2031-03-10'])
  })

  it("show an owner their own boats' weighings alone; the histories are for those who may correct", async () => {
    const own = await anodeOf('Own', {}, { ownerName: 'Test owner', ownerEmail: server.ownerEmail })
    const mine = await ask('POST', own, { weighedOn: '2031-01-10', massG: 900 })
    const other = await ask('POST', await anodeOf('Others'), { weighedOn: '2031-01-10', massG: 900 })
    const asOwner = askAs(server, await server.actorOf('owner'))
    expect((await asOwner('GET', `/v1/weighings/${mine.body.id}`)).status).toBe(200)
    expect((await asOwner('GET', `/v1/weighings/${other.body.id}`)).status).toBe(404)
    expect((await asOwner('GET', '/v1/boats/Others/anodes/shaft 1/weighings')).status).toBe(404)
    const list = await asOwner('GET', '/v1/weighings')
    expect(list.body.items.map((one: { id: string }) => one.id)).toEqual([mine.body.id])
    expect((await asOwner('POST', own, { weighedOn: '2031-02-10', massG: 800 })).status).toBe(403)
    expect((await asOwner('GET', `/v1/weighings/${mine.body.id}/history`)).status).toBe(403)
    const patch = { massG: 1, reason: 'no reason' }
    expect((await asOwner('PATCH', `/v1/weighings/${mine.body.id}`, patch, basedOn(mine))).status).toBe(403)
  })

  it('are of one organisation: an id of another is not found', async () => {
    const made = await ask('POST', await anodeOf('Home'), { weighedOn: '2031-01-10', massG: 900 })
    const abroad = await startTestServer({ database: server.database })
    try {
      const stranger = askAs(abroad, await abroad.actorOf('administrator'))
      const one = `/v1/weighings/${made.body.id}`
      expect((await stranger('GET', one)).status).toBe(404)
      expect((await stranger('GET', `${one}/history`)).status).toBe(404)
      expect((await stranger('PATCH', one, { massG: 1, reason: 'stranger' }, basedOn(made))).status).toBe(404)
      expect((await stranger('DELETE', `${one}?reason=stranger`, undefined, basedOn(made))).status).toBe(404)
      expect((await stranger('GET', '/v1/weighings')).body.items).toEqual([])
    } finally {
      await abroad.close()
    }
    expect((await ask('GET', `/v1/weighings/${made.body.id}`)).body).toEqual(made.body)
  })
})
