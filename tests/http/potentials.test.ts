import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { auditEntries } from '../../src/db/schema/index.js'
import { type Ask, askAs, basedOn } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
let ask: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date('2031-06-15T12:00:00Z') })
  ask = askAs(server, await server.actorOf('staff'))
  await ask('POST', '/v1/boats', { name: 'Wren' })
  await ask('POST', '/v1/boats/Wren/fittings', { name: 'propeller' })
})
afterAll(() => server.close())

const READING = { measuredAt: '2031-04-18T09:30:00Z', reference: 'ag-agcl-seawater', volts: -0.94 }
const log = (reading: object) => ask('POST', '/v1/boats/Wren/potentials', { ...READING, ...reading })

describe('a potential', () => {
  it('is logged, read, changed, and removed; the trail says by whom', async () => {
    const made = await log({ fitting: 'propeller', shorePower: 'connected', circuits: 'off' })
    expect([made.status, made.etag, made.headers.location]).toEqual([201, '"1"', `/v1/potentials/${made.body.id}`])
    expect(made.body).toMatchObject({
      ...READING,
      boat: 'Wren',
      measuredAt: '2031-04-18T09:30:00.000Z',
      fitting: 'propeller',
      shorePower: 'connected',
      circuits: 'off',
    })
    const url = `/v1/potentials/${made.body.id}`
    expect((await ask('GET', url)).body).toEqual(made.body)

    const changed = await ask('PATCH', url, { volts: -0.91, fitting: null, circuits: null }, basedOn(made))
    expect([changed.status, changed.etag]).toEqual([200, '"2"'])
    expect(changed.body).toMatchObject({ volts: -0.91, fitting: null, circuits: null, shorePower: 'connected' })
    expect((await ask('PATCH', url, { volts: -0.9 }, basedOn(made))).status).toBe(412)
    expect((await ask('PATCH', url, { volts: -0.9 })).status).toBe(428)
    expect((await ask('DELETE', url, undefined, basedOn(changed))).status).toBe(204)
    expect((await ask('GET', url)).status).toBe(404)
    const trail = await server.database.db
      .select()
      .from(auditEntries)
      .where(eq(auditEntries.rowId, made.body.id))
      .orderBy(auditEntries.id)
    expect(trail.map(({ action, actor }) => `${action} by ${actor}`)).toEqual([
      'insert by key:test staff',
      'update by key:test staff',
      'delete by key:test staff',
    ])
  })

  it('is stored in UTC, whatever offset it was given with', async () => {
    const made = await log({ measuredAt: '2031-04-18T12:30:00+12:00', volts: -0.5 })
    expect(made.body.measuredAt).toBe('2031-04-18T00:30:00.000Z')
    const again = await log({ measuredAt: '2031-04-18T00:30:00Z', volts: -0.5 })
    expect([again.status, again.body.detail]).toEqual([
      409,
      'this potential was logged already: same boat, fitting and instant',
    ])
  })

  it('lies in the past; a dock may be a day ahead of the server, not more', async () => {
    expect((await log({ measuredAt: '2031-06-16T11:00:00Z' })).status).toBe(201)
    const refused = await log({ measuredAt: '2031-06-17T00:00:00Z' })
    expect(refused.status).toBe(422)
    expect(refused.body.errors[0].pointer).toBe('#/measuredAt')
    // Noon of the 17th twelve hours east of Greenwich is the 17th in UTC; one o'clock in the morning is still the 16th.
    expect((await log({ measuredAt: '2031-06-17T12:00:00+12:00' })).status).toBe(422)
    expect((await log({ measuredAt: '2031-06-17T01:00:00+12:00' })).status).toBe(201)
  })

  it('of a fitting that the boat does not have, or in millivolts, is refused', async () => {
    const nowhere = await log({ fitting: 'rudder' })
    expect([nowhere.status, nowhere.body.errors]).toEqual([
      422,
      [{ pointer: '#/fitting', detail: 'the boat has no fitting rudder; null means the bonded hull' }],
    ])
    const millivolts = await log({ volts: -940 })
    expect([millivolts.status, millivolts.body.errors[0].detail]).toEqual([
      400,
      'volts must lie between -3 and 3: volts, not millivolts',
    ])
  })
})

it('potentials are filtered by boat, fitting and days', async () => {
  await ask('POST', '/v1/boats', { name: 'Filter' })
  await ask('POST', '/v1/boats/Filter/fittings', { name: 'shaft' })
  const add = (measuredAt: string, fitting: string | null) =>
    ask('POST', '/v1/boats/Filter/potentials', { ...READING, measuredAt, fitting })
  await add('2031-01-01T23:59:59.999Z', 'shaft')
  await add('2031-01-02T00:00:00Z', null)
  await add('2031-01-03T12:00:00Z', 'shaft')
  const found = async (query: string) => {
    const { body } = await ask('GET', `/v1/potentials?boat=Filter&${query}`)
    return body.items.map((reading: { measuredAt: string }) => reading.measuredAt.slice(0, 10))
  }
  expect(await found('')).toEqual(['2031-01-01', '2031-01-02', '2031-01-03'])
  expect(await found('sort=-measuredAt')).toEqual(['2031-01-03', '2031-01-02', '2031-01-01'])
  expect(await found('fitting=shaft')).toEqual(['2031-01-01', '2031-01-03'])
  expect(await found('from=2031-01-02')).toEqual(['2031-01-02', '2031-01-03'])
  expect(await found('to=2031-01-01')).toEqual(['2031-01-01'])
  expect((await ask('GET', '/v1/boats/Filter/potentials?fitting=shaft')).body.items).toHaveLength(2)
})
