import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { auditEntries } from '../../src/db/schema/index.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
let ask: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date('2031-06-15T12:00:00Z') })
  ask = askAs(server, await server.actorOf('staff'))
  await ask('POST', '/v1/berths', { name: 'A1' })
  await ask('POST', '/v1/boats', { name: 'Wren' })
})
afterAll(() => server.close())

const READING = { measuredAt: '2031-04-18T09:30:00Z', reference: 'sce', volts: -0.9 }
const UUID = '0b9f4d6e-6a5e-4f6f-9a58-2f6d6f0a7c11'

describe('bad input', () => {
  it.each([
    ['boats', { name: '' }, 400, '#/name', 'name must not be empty'],
    ['boats', { name: ' \t ' }, 400, '#/name', 'name must not be empty'],
    ['boats', { name: UUID }, 400, '#/name', 'name must not look like an id (a UUID)'],
    ['boats', { name: UUID.toUpperCase() }, 400, '#/name', 'name must not look like an id (a UUID)'],
    ['boats', { name: '..' }, 400, '#/name', 'name must not be a dot or two: no path could lead there'],
    ['boats', { name: 'A\0B' }, 400, '#/name', 'name must have no control characters or line breaks'],
    ['boats', { name: 'x'.repeat(201) }, 400, '#/name', 'name must have at most 200 characters'],
    ['boats', {}, 400, '#/name', 'name is missing'],
    ['boats', { name: 'A', hul: 'grp' }, 400, '#/hul', 'hul is not known here'],
    ['boats', { name: 'A', hull: 'plastic' }, 400, '#/hull', /^hull must be one of grp, wood/],
    ['boats', { name: 'A', launchedYear: 1799 }, 400, '#/launchedYear', 'launchedYear must be at least 1800'],
    ['boats', { name: 'A', launchedYear: 1999.5 }, 400, '#/launchedYear', 'launchedYear must be a whole number'],
    ['boats', { name: 'A', ownerEmail: 'nobody' }, 400, '#/ownerEmail', 'ownerEmail must be an e-mail address'],
    ['boats', { name: 'A', wastingThreshold: 50 }, 400, '#/wastingThreshold', 'wastingThreshold must be below 1'],
    ['boats', { name: 'A', wastingThreshold: 0 }, 400, '#/wastingThreshold', 'wastingThreshold must be above 0'],
    ['berths', { name: 'B', latitude: 91 }, 400, '#/latitude', 'latitude must be at most 90'],
    ['berths', { name: 'B', longitude: -180.5 }, 400, '#/longitude', 'longitude must be at least -180'],
    ['berths', { name: 'B', salinityPsu: 43 }, 400, '#/salinityPsu', 'salinityPsu must be at most 42'],
    ['berths', { name: 'B', shorePower: 'yes' }, 400, '#/shorePower', 'shorePower must be true or false'],
    ['boats/Wren/stays', { berth: 'A1', fromOn: '2030-02-30' }, 400, '#/fromOn', /^fromOn must be a date such as/],
    ['boats/Wren/stays', { berth: 'A1', fromOn: '0000-01-01' }, 400, '#/fromOn', /between 1900 and 2199$/],
    ['boats/Wren/stays', { fromOn: '2030-01-01' }, 400, '#/berth', 'berth is missing'],
    [
      'boats/Wren/stays',
      { berth: 'A1', fromOn: '2030-02-01', toOn: '2030-01-31' },
      422,
      '#/toOn',
      'a stay that begins on 2030-02-01 cannot end on 2030-01-31',
    ],
    [
      'boats/Wren/stays',
      { berth: 'A1', fromOn: '2030-02-01', shorePowerHoursPerDay: 25 },
      400,
      '#/shorePowerHoursPerDay',
      'shorePowerHoursPerDay must be at most 24',
    ],
    ['boats/Wren/fittings', { name: 'p', metal: 'unobtainium' }, 400, '#/metal', /no metal of the galvanic series/],
    ['boats/Wren/fittings', { name: 'p', areaCm2: -1 }, 400, '#/areaCm2', 'areaCm2 must be at least 0'],
    [
      'boats/Wren/potentials',
      { ...READING, reference: 'gold' },
      400,
      '#/reference',
      /^reference must be one of ag-agcl/,
    ],
    [
      'boats/Wren/potentials',
      { ...READING, measuredAt: '2031-04-18' },
      400,
      '#/measuredAt',
      /^measuredAt must be an instant/,
    ],
    [
      'boats/Wren/continuity',
      { measuredAt: READING.measuredAt, from: 'bond', to: 'bond', ohms: -1 },
      400,
      '#/ohms',
      'ohms must be at least 0',
    ],
  ])('POST /v1/%s %j is refused by name and reason', async (path, body, status, pointer, detail) => {
    const written = await server.database.db.$count(auditEntries)
    const refused = await ask('POST', `/v1/${path}`, body)
    expect(refused.status).toBe(status)
    expect(refused.headers['content-type']).toMatch('application/problem+json')
    expect(refused.body.errors.map((error: { pointer: string }) => error.pointer)).toEqual([pointer])
    if (typeof detail === 'string') expect(refused.body.errors[0].detail).toBe(detail)
    else expect(refused.body.errors[0].detail).toMatch(detail)
    expect(await server.database.db.$count(auditEntries)).toBe(written)
  })

  it.each([
    ['boats?colour=red', '#/colour'],
    ['boats?sort=hull', '#/sort'],
    ['boats?hull=plastic', '#/hull'],
    ['boats?water=', '#/water'],
    ['berths?q=', '#/q'],
    ['stays?from=yesterday', '#/from'],
    ['stays/not-an-id', '#/stay'],
    ['potentials/1', '#/potential'],
    ['boats/Wren/fittings?metal=bronze', '#/metal'],
    ['boats/%00', '#/boat'],
    ['boats?q=%00', '#/q'],
  ])('GET /v1/%s is refused', async (path, pointer) => {
    const refused = await ask('GET', `/v1/${path}`)
    expect([refused.status, refused.body.errors[0].pointer]).toEqual([400, pointer])
  })

  it.each([
    'boats/Nobody',
    `boats/${UUID}`,
    'boats/Nobody/stays',
    'berths/Nowhere',
    `stays/${UUID}`,
    `continuity/${UUID}`,
  ])('GET /v1/%s is not found', async (path) => {
    const missing = await ask('GET', `/v1/${path}`)
    expect([missing.status, missing.body.title]).toEqual([404, 'Not Found'])
  })

  it.each(['a%', "Robert'); drop table boats;--", 'Žluťoučký kůň', '船', 'a/b', 'a?b#c', '...', '<b>&'])(
    'that only looks bad is a name like any other: %s',
    async (name) => {
      expect((await ask('POST', '/v1/boats', { name })).status).toBe(201)
      const read = await ask('GET', `/v1/boats/${encodeURIComponent(name)}`)
      expect(read.body.name).toBe(name)
      const found = await ask('GET', `/v1/boats?q=${encodeURIComponent(name)}`)
      expect(found.body.items.map((boat: { name: string }) => boat.name)).toContain(name)
    },
  )
})
