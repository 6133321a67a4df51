import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { anodes, auditEntries, positions } from '../../src/db/schema/index.js'
import { type Ask, askAs, basedOn } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
let ask: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date('2031-06-15T12:00:00Z') })
  ask = askAs(server, await server.actorOf('staff'))
  const boat = await ask('POST', '/v1/boats', { name: 'Wren' })
  await ask('POST', '/v1/boats/Wren/fittings', { name: 'propeller' })
  const boatOf = { organisationId: server.organisationId, boatId: boat.body.id }
  const [position] = await server.database.db
    .insert(positions)
    .values({ ...boatOf, label: 'shaft', kind: 'shaft' })
    .returning()
  await server.database.db.insert(anodes).values({ ...boatOf, positionId: position!.id, name: 'shaft anode' })
})
afterAll(() => server.close())

const READING = { measuredAt: '2031-04-18T09:40:00.000Z', from: 'shaft anode', to: 'bond', ohms: 0.3 }
const log = (reading: object) => ask('POST', '/v1/boats/Wren/continuity', { ...READING, ...reading })

describe('a continuity reading', () => {
  it('is logged, read, changed, and removed; the trail says by whom', async () => {
    const made = await log({})
    expect([made.status, made.etag, made.headers.location]).toEqual([201, '"1"', `/v1/continuity/${made.body.id}`])
    expect(made.body).toMatchObject({ boat: 'Wren', ...READING })
    const url = `/v1/continuity/${made.body.id}`
    expect((await ask('GET', url)).body).toEqual(made.body)

    const changed = await ask('PATCH', url, { to: 'propeller', ohms: 12 }, basedOn(made))
    expect([changed.status, changed.etag]).toEqual([200, '"2"'])
    expect(changed.body).toMatchObject({ ...READING, to: 'propeller', ohms: 12 })
    expect((await ask('PATCH', url, { ohms: 1 }, basedOn(made))).status).toBe(412)
    expect((await ask('DELETE', url)).status).toBe(428)
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

  it('goes between two things that the boat has', async () => {
    const refused = await log({ from: 'keel', to: 'rudder' })
    expect([refused.status, refused.body.errors]).toEqual([
      422,
      [
        { pointer: '#/from', detail: 'Wren has neither a fitting nor an anode keel' },
        { pointer: '#/to', detail: 'Wren has neither a fitting nor an anode rudder' },
      ],
    ])
    const itself = await log({ from: 'bond', to: 'bond' })
    expect([itself.status, itself.body.errors[0].pointer]).toEqual([422, '#/to'])
    const kept = await log({ measuredAt: '2031-05-01T08:00:00Z', to: 'propeller' })
    const changed = await ask('PATCH', `/v1/continuity/${kept.body.id}`, { from: 'propeller' }, basedOn(kept))
    expect([changed.status, changed.body.errors[0].pointer]).toEqual([422, '#/to'])
  })

  it('lies in the past and is not logged twice', async () => {
    expect((await log({ measuredAt: '2031-06-17T00:00:00Z' })).status).toBe(422)
    const twice = { measuredAt: '2031-05-02T08:00:00Z' }
    expect((await log(twice)).status).toBe(201)
    expect((await log(twice)).status).toBe(409)
  })
})

it('continuity readings are filtered by boat and days', async () => {
  await ask('POST', '/v1/boats', { name: 'Filter' })
  await ask('POST', '/v1/boats/Filter/fittings', { name: 'shaft' })
  for (const [day, ohms] of [
    ['2031-02-01', 5],
    ['2031-02-02', 0.1],
  ]) {
    await ask('POST', '/v1/boats/Filter/continuity', {
      measuredAt: `${day}T10:00:00Z`,
      from: 'shaft',
      to: 'bond',
      ohms,
    })
  }
  const found = async (url: string) => {
    const { body } = await ask('GET', url)
    return body.items.map((reading: { ohms: number }) => reading.ohms)
  }
  expect(await found('/v1/continuity?boat=Filter')).toEqual([5, 0.1])
  expect(await found('/v1/continuity?boat=Filter&sort=ohms')).toEqual([0.1, 5])
  expect(await found('/v1/continuity?boat=Filter&from=2031-02-02')).toEqual([0.1])
  expect(await found('/v1/boats/Filter/continuity?to=2031-02-01')).toEqual([5])
})
