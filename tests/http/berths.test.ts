import { and, eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { auditEntries, pontoons } from '../../src/db/schema/index.js'
import { type Ask, askAs, basedOn } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
let ask: Ask

beforeAll(async () => {
  server = await startTestServer()
  ask = askAs(server, await server.actorOf('staff'))
})
afterAll(() => server.close())

const names = (items: { name: string }[]) => items.map(({ name }) => name)
const pontoonsNamed = (name: string) =>
  server.database.db
    .select()
    .from(pontoons)
    .where(and(eq(pontoons.organisationId, server.organisationId), eq(pontoons.name, name)))

describe('a berth', () => {
  it('is added, read by name and by id, changed, and removed; the trail says by whom', async () => {
    const wanted = {
      name: 'A1',
      pontoon: 'A',
      water: 'salt',
      salinityPsu: 34.5,
      latitude: -43.6,
      longitude: 172.7,
      shorePower: false,
    }
    const made = await ask('POST', '/v1/berths', wanted)
    expect([made.status, made.etag, made.headers.location]).toEqual([201, '"1"', `/v1/berths/${made.body.id}`])
    expect(made.body).toMatchObject(wanted)
    for (const berth of ['A1', made.body.id]) expect((await ask('GET', `/v1/berths/${berth}`)).body).toEqual(made.body)

    const changed = await ask('PATCH', '/v1/berths/A1', { name: 'A1 west', shorePower: null }, basedOn(made))
    expect([changed.status, changed.etag]).toEqual([200, '"2"'])
    expect(changed.body).toMatchObject({ ...wanted, name: 'A1 west', shorePower: null })
    expect((await ask('PATCH', '/v1/berths/A1 west', { water: 'fresh' }, basedOn(made))).status).toBe(412)
    expect((await ask('PATCH', '/v1/berths/A1 west', { water: 'fresh' })).status).toBe(428)

    expect((await ask('DELETE', '/v1/berths/A1 west', undefined, basedOn(changed))).status).toBe(204)
    expect((await ask('GET', `/v1/berths/${made.body.id}`)).status).toBe(404)
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

  it('makes its pontoon when that is new, shares it, and takes the last of it along', async () => {
    const first = await ask('POST', '/v1/berths', { name: 'P1', pontoon: 'P' })
    const second = await ask('POST', '/v1/berths', { name: 'P2', pontoon: 'P' })
    expect(await pontoonsNamed('P')).toHaveLength(1)
    await ask('PATCH', '/v1/berths/P1', { pontoon: 'Q' }, basedOn(first))
    expect([await pontoonsNamed('P'), await pontoonsNamed('Q')].map((rows) => rows.length)).toEqual([1, 1])
    await ask('DELETE', '/v1/berths/P2', undefined, basedOn(second))
    expect(await pontoonsNamed('P')).toEqual([])
    const alone = await ask('PATCH', '/v1/berths/P1', { pontoon: null }, { 'if-match': '"2"' })
    expect(alone.body.pontoon).toBeNull()
    expect(await pontoonsNamed('Q')).toEqual([])
  })

  it('with stays is not removed', async () => {
    const berth = await ask('POST', '/v1/berths', { name: 'Used' })
    await ask('POST', '/v1/boats', { name: 'User' })
    await ask('POST', '/v1/boats/User/stays', { berth: 'Used', fromOn: '2020-01-01', toOn: '2020-02-01' })
    const refused = await ask('DELETE', '/v1/berths/Used', undefined, basedOn(berth))
    expect(refused.status).toBe(409)
    expect(refused.body.detail).toBe('boats have stayed at berth Used; a berth with stays is not removed')
    expect((await ask('GET', '/v1/berths/Used')).status).toBe(200)
  })

  it('of a name that is taken is a conflict, and leaves no pontoon behind', async () => {
    await ask('POST', '/v1/berths', { name: 'Same' })
    const again = await ask('POST', '/v1/berths', { name: 'Same', pontoon: 'Nowhere' })
    expect([again.status, again.body.detail]).toEqual([409, 'a berth of this name exists already'])
    expect(await pontoonsNamed('Nowhere')).toEqual([])
  })
})

it('berths are filtered by pontoon, by water and by a part of the name, in which % is a letter like any other', async () => {
  await ask('POST', '/v1/berths', { name: 'Lake 1', pontoon: 'L', water: 'fresh' })
  await ask('POST', '/v1/berths', { name: 'Lake 2', pontoon: 'L', water: 'brackish' })
  await ask('POST', '/v1/berths', { name: '100% lake', water: 'fresh' })
  const listed = async (query: string) => names((await ask('GET', `/v1/berths?${query}`)).body.items)
  expect(await listed('pontoon=L')).toEqual(['Lake 1', 'Lake 2'])
  expect(await listed('water=fresh')).toEqual(['100% lake', 'Lake 1'])
  expect(await listed('q=LAKE')).toEqual(['100% lake', 'Lake 1', 'Lake 2'])
  expect(await listed('q=%25')).toEqual(['100% lake'])
  expect(await listed('q=_')).toEqual([])
  expect(await listed('water=fresh&pontoon=L')).toEqual(['Lake 1'])
})
