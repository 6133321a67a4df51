import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

const NOW = new Date('2026-03-25T12:00:00Z')
let server: TestServer
let manager: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => NOW })
  await importFleet(server, fleetFiles(server.ownerEmail))
  manager = askAs(server, await server.actorOf('manager'))
})
afterAll(() => server.close())

const calendarOf = async (on: string) =>
  (await manager('GET', `/v1/haul-outs?from=${on}&to=${on}`)).body.items as { boat: string; version: number }[]

describe('a plan of lifts', () => {
  it('is written whole, with one refit, and taken out again', async () => {
    const lifts = ['Boat A', 'Boat B'].map((boat) => ({ boat, on: '2026-05-04' }))
    const { status, body } = await manager('POST', '/v1/planned-lifts', { lifts })
    expect(status).toBe(200)
    expect(body).toMatchObject({ present: 0, refit: { state: expect.any(String) } })
    expect((await calendarOf('2026-05-04')).map(({ boat }) => boat).sort()).toEqual(['Boat A', 'Boat B'])
    const again = await manager('POST', '/v1/planned-lifts', { lifts })
    expect(again.body).toEqual({ written: [], present: 2, refit: null })
    const undone = body.written.map(({ id, version }: { id: string; version: number }) => ({ id, version }))
    const removed = await manager('POST', '/v1/planned-lifts/remove', { lifts: undone })
    expect(removed.body).toMatchObject({ removed: 2, kept: [] })
    expect(await calendarOf('2026-05-04')).toEqual([])
  })

  it('is refused whole where one of it cannot be, each by its name', async () => {
    const lifts = [
      { boat: 'Boat A', on: '2026-05-11' },
      { boat: 'Boat A', on: '2026-03-24' },
      { boat: 'No such boat', on: '2026-05-11' },
    ]
    const { status, body } = await manager('POST', '/v1/planned-lifts', { lifts })
    expect(status).toBe(422)
    expect(body.errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual(['#/lifts/1/on', '#/lifts/2/boat'])
    expect(await calendarOf('2026-05-11')).toEqual([])
  })

  it('leaves a lift that was changed since, and says which', async () => {
    const { body } = await manager('POST', '/v1/planned-lifts', { lifts: [{ boat: 'Boat A', on: '2026-06-01' }] })
    const [{ id, version }] = body.written
    await manager('PATCH', `/v1/haul-outs/${id}`, { note: 'with the mast down' }, { 'if-match': `"${version}"` })
    const removed = await manager('POST', '/v1/planned-lifts/remove', { lifts: [{ id, version }] })
    expect(removed.body).toEqual({ removed: 0, kept: [{ boat: 'Boat A', on: '2026-06-01' }], refit: null })
    expect(await calendarOf('2026-06-01')).toHaveLength(1)
  })

  it('is not an owner’s to make', async () => {
    const owner = askAs(server, await server.actorOf('owner'))
    const answer = await owner('POST', '/v1/planned-lifts', { lifts: [{ boat: 'Boat A', on: '2026-06-08' }] })
    expect(answer.status).toBe(403)
  })
})
