import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { auditEntries } from '../../src/db/schema/index.js'
import { type Ask, askAs, basedOn } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
let ask: Ask

beforeAll(async () => {
  server = await startTestServer()
  ask = askAs(server, await server.actorOf('staff'))
  for (const name of ['A1', 'A2']) await ask('POST', '/v1/berths', { name })
})
afterAll(() => server.close())

const boatNamed = (name: string) => ask('POST', '/v1/boats', { name })
const stayOf = (boat: string, stay: object) => ask('POST', `/v1/boats/${boat}/stays`, stay)

describe('a stay', () => {
  it('is added, read, changed, and removed; the trail says by whom', async () => {
    await boatNamed('Wren')
    const made = await stayOf('Wren', {
      berth: 'A1',
      fromOn: '2030-04-01',
      toOn: '2030-10-01',
      shorePowerHoursPerDay: 24,
    })
    expect([made.status, made.etag, made.headers.location]).toEqual([201, '"1"', `/v1/stays/${made.body.id}`])
    expect(made.body).toMatchObject({
      boat: 'Wren',
      berth: 'A1',
      fromOn: '2030-04-01',
      toOn: '2030-10-01',
      shorePowerHoursPerDay: 24,
    })
    const url = `/v1/stays/${made.body.id}`
    expect((await ask('GET', url)).body).toEqual(made.body)

    const changed = await ask('PATCH', url, { berth: null, toOn: null, fromOn: '2030-05-01' }, basedOn(made))
    expect([changed.status, changed.etag]).toEqual([200, '"2"'])
    expect(changed.body).toMatchObject({ berth: null, fromOn: '2030-05-01', toOn: null, shorePowerHoursPerDay: 24 })
    expect((await ask('PATCH', url, { berth: 'A2' }, basedOn(made))).status).toBe(412)
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

  it('begins on the day the one before ends', async () => {
    await boatNamed('Next')
    expect((await stayOf('Next', { berth: 'A1', fromOn: '2030-01-01', toOn: '2030-02-01' })).status).toBe(201)
    expect((await stayOf('Next', { berth: 'A2', fromOn: '2030-02-01', toOn: null })).status).toBe(201)
  })

  it.each([
    ['within', '2030-05-01', '2030-06-01'],
    ['across the start', '2030-03-01', '2030-04-02'],
    ['across the end', '2030-09-30', '2030-12-01'],
    ['around', '2030-01-01', '2031-01-01'],
    ['from before, without an end', '2030-01-01', null],
    ['on the very day of the start', '2030-04-01', '2030-04-01'],
  ])('that lies %s another is refused with where the boat is', async (how, fromOn, toOn) => {
    const boat = `Overlap ${how}`
    await boatNamed(boat)
    await stayOf(boat, { berth: 'A1', fromOn: '2030-04-01', toOn: '2030-10-01' })
    const refused = await stayOf(boat, { berth: null, fromOn, toOn })
    expect(refused.status).toBe(409)
    expect(refused.body.detail).toBe(
      'the boat is at berth A1 from 2030-04-01 to 2030-10-01 in that time; a boat is at one berth at a time',
    )
  })

  it('may be changed within its own days, not into those of another', async () => {
    await boatNamed('Moved')
    const first = await stayOf('Moved', { berth: 'A1', fromOn: '2030-01-01', toOn: '2030-03-01' })
    await stayOf('Moved', { berth: null, fromOn: '2030-03-01' })
    const url = `/v1/stays/${first.body.id}`
    const refused = await ask('PATCH', url, { toOn: '2030-03-02' }, basedOn(first))
    expect([refused.status, refused.body.detail]).toEqual([
      409,
      'the boat is ashore from 2030-03-01 until further notice in that time; a boat is at one berth at a time',
    ])
    expect((await ask('PATCH', url, { toOn: '2030-02-01' }, basedOn(first))).status).toBe(200)
  })

  it('ends the open one when asked to', async () => {
    await boatNamed('Leaving')
    const open = await stayOf('Leaving', { berth: 'A1', fromOn: '2030-01-01' })
    expect((await stayOf('Leaving', { berth: 'A2', fromOn: '2030-06-01' })).status).toBe(409)
    const next = await stayOf('Leaving', { berth: 'A2', fromOn: '2030-06-01', closeOpenStay: true })
    expect(next.status).toBe(201)
    expect((await ask('GET', `/v1/stays/${open.body.id}`)).body).toMatchObject({ toOn: '2030-06-01', version: 2 })
  })

  it('does not end the open one when it cannot itself be', async () => {
    await boatNamed('Staying')
    await stayOf('Staying', { berth: null, fromOn: '2029-01-01', toOn: '2029-06-01' })
    const open = await stayOf('Staying', { berth: 'A1', fromOn: '2030-01-01' })
    const refused = await stayOf('Staying', { berth: 'A2', fromOn: '2029-03-01', closeOpenStay: true })
    expect(refused.status).toBe(409)
    const gone = await stayOf('Staying', { berth: 'A9', fromOn: '2030-03-01', closeOpenStay: true })
    expect([gone.status, gone.body.errors]).toEqual([
      422,
      [{ pointer: '#/berth', detail: 'there is no berth A9; null means ashore' }],
    ])
    expect((await ask('GET', `/v1/stays/${open.body.id}`)).body).toEqual(open.body)
  })

  it('asked for at the same moment by two is given to one', async () => {
    await boatNamed('Race')
    const answers = await Promise.all(
      ['A1', 'A2', null].map((berth) => stayOf('Race', { berth, fromOn: '2030-01-01', toOn: '2030-02-01' })),
    )
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409])
    expect((await ask('GET', '/v1/boats/Race/stays')).body.items).toHaveLength(1)
  })
})

it('stays are filtered by boat, berth and days', async () => {
  await boatNamed('Filter')
  await stayOf('Filter', { berth: 'A1', fromOn: '2025-01-01', toOn: '2025-06-01' })
  await stayOf('Filter', { berth: null, fromOn: '2025-06-01', toOn: '2025-09-01' })
  await stayOf('Filter', { berth: 'A2', fromOn: '2025-09-01' })
  const starts = async (query: string) => {
    const answer = await ask('GET', `/v1/stays?boat=Filter&${query}`)
    return answer.body.items.map((stay: { fromOn: string }) => stay.fromOn)
  }
  expect(await starts('')).toEqual(['2025-01-01', '2025-06-01', '2025-09-01'])
  expect(await starts('sort=-fromOn')).toEqual(['2025-09-01', '2025-06-01', '2025-01-01'])
  expect(await starts('berth=A2')).toEqual(['2025-09-01'])
  expect(await starts('from=2025-06-01')).toEqual(['2025-06-01', '2025-09-01'])
  expect(await starts('to=2025-06-01')).toEqual(['2025-01-01', '2025-06-01'])
  expect(await starts('from=2025-07-01&to=2025-08-01')).toEqual(['2025-06-01'])
  expect((await ask('GET', '/v1/boats/Filter/stays?berth=A1')).body.items).toHaveLength(1)
  expect((await ask('GET', '/v1/boats/Nobody/stays')).status).toBe(404)
  expect((await ask('GET', '/v1/stays?boat=Nobody')).body).toEqual({ items: [], nextCursor: null })
})
