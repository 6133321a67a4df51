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

const COLLAR = { alloy: 'zinc', shape: 'shaft collar', grossMassG: 1250, coreMassG: 80 }

async function boatNamed(name: string, more: object = {}): Promise<string> {
  expect((await ask('POST', '/v1/boats', { name, ...more })).status).toBe(201)
  return `/v1/boats/${name}/anodes`
}

const fitAnode = (url: string, name: string, position: string, more: object = {}) =>
  ask('POST', url, { name, position, fittedOn: '2030-06-01', ...COLLAR, ...more })

describe('an anode', () => {
  it('is fitted, read by name and by id, changed and deleted', async () => {
    const url = await boatNamed('Wren')
    const made = await fitAnode(url, 'shaft 1', 'shaft', { grossMassG: { value: 1.25, unit: 'kg' }, lengthMm: 70 })
    expect(made.status).toBe(201)
    expect(made.body).toMatchObject({
      boat: 'Wren',
      name: 'shaft 1',
      position: 'shaft',
      positionSlot: 1,
      positionKind: 'shaft',
      grossMassG: 1250,
      coreMassG: 80,
      lengthMm: 70,
      widthMm: null,
      bonded: null,
      removedOn: null,
      lastWeighing: null,
      version: 1,
    })
    expect(made.headers.location).toBe(`${url}/${made.body.id}`)
    for (const anode of ['shaft 1', made.body.id]) expect((await ask('GET', `${url}/${anode}`)).body).toEqual(made.body)

    expect((await ask('PATCH', `${url}/shaft 1`, { bonded: true })).status).toBe(428)
    const changed = await ask('PATCH', `${url}/shaft 1`, { bonded: true, coreMassG: null }, basedOn(made))
    expect([changed.status, changed.etag]).toEqual([200, '"2"'])
    expect(changed.body).toMatchObject({ bonded: true, coreMassG: null, grossMassG: 1250 })
    expect((await ask('PATCH', `${url}/shaft 1`, { bonded: false }, basedOn(made))).status).toBe(412)
    expect((await ask('DELETE', `${url}/shaft 1`, undefined, basedOn(changed))).status).toBe(204)
    expect((await ask('GET', `${url}/shaft 1`)).status).toBe(404)
  })

  it('of a name that the boat has, or had, is a conflict', async () => {
    const url = await boatNamed('Named')
    await fitAnode(url, 'shaft 1', 'shaft')
    const again = await fitAnode(url, 'shaft 1', 'hull')
    expect([again.status, again.body.detail]).toEqual([409, 'this boat has, or had, an anode of this name'])
  })

  it('that was weighed is not deleted, but can be taken off', async () => {
    const url = await boatNamed('Worn')
    const made = await fitAnode(url, 'shaft 1', 'shaft')
    await ask('POST', `${url}/shaft 1/weighings`, { weighedOn: '2031-03-01', massG: 700, cleaned: true })
    const read = await ask('GET', `${url}/shaft 1`)
    expect(read.body.lastWeighing).toEqual({
      weighedOn: '2031-03-01',
      method: 'scale',
      massG: 700,
      wastedPercent: null,
    })
    expect((await ask('DELETE', `${url}/shaft 1`, undefined, basedOn(made))).status).toBe(409)
    const early = await ask('POST', `${url}/shaft 1/removal`, { removedOn: '2031-02-01' })
    expect([early.status, early.body.errors[0].pointer]).toEqual([422, '#/removedOn'])
    for (let time = 0; time < 2; time++) {
      const off = await ask('POST', `${url}/shaft 1/removal`, { removedOn: '2031-03-01' })
      expect([off.status, off.body.removedOn, off.etag]).toEqual([200, '2031-03-01', '"2"'])
    }
    expect((await ask('POST', `${url}/shaft 1/removal`, { removedOn: '2031-03-02' })).status).toBe(409)
  })

  it.each([
    [{ fittedOn: '2031-06-17' }, '#/fittedOn'],
    [{ removedOn: '2030-05-31' }, '#/removedOn'],
    [{ removedOn: '2031-06-17' }, '#/removedOn'],
    [{ coreMassG: 1250 }, '#/coreMassG'],
  ])('with %j is refused at %s', async (wrong, pointer) => {
    const url = await boatNamed(`Wrong ${JSON.stringify(wrong)}`.replaceAll(/[^\w ]/g, ''))
    const refused = await fitAnode(url, 'shaft 1', 'shaft', wrong)
    expect([refused.status, refused.body.errors.map((one: { pointer: string }) => one.pointer)]).toEqual([
      422,
      [pointer],
    ])
    expect((await ask('GET', url)).body.items).toEqual([])
  })

  it.each([
    [{ grossMassG: 0 }, '#/grossMassG'],
    [{ grossMassG: { value: 1, unit: 'stone' } }, '#/grossMassG'],
    [{ lengthMm: -1 }, '#/lengthMm'],
    [{ alloy: 'tin' }, '#/alloy'],
    [{ weight: 5 }, '#/weight'],
  ])('with %j is malformed at %s', async (wrong, pointer) => {
    const refused = await fitAnode('/v1/boats/Wren/anodes', 'bad', 'shaft', wrong)
    expect([refused.status, refused.body.errors.map((one: { pointer: string }) => one.pointer)]).toEqual([
      400,
      [pointer],
    ])
  })

  it('keeps to its weighings when its dates or its core are changed', async () => {
    const url = await boatNamed('Bound')
    const made = await fitAnode(url, 'shaft 1', 'shaft')
    await ask('POST', `${url}/shaft 1/weighings`, { weighedOn: '2031-03-01', massG: 300, cleaned: true })
    for (const [change, pointer] of [
      [{ fittedOn: '2031-03-02' }, '#/fittedOn'],
      [{ removedOn: '2031-02-28' }, '#/removedOn'],
      [{ coreMassG: 301 }, '#/coreMassG'],
    ] as const) {
      const refused = await ask('PATCH', `${url}/shaft 1`, change, basedOn(made))
      expect([refused.status, refused.body.errors[0].pointer]).toEqual([422, pointer])
    }
    expect((await ask('PATCH', `${url}/shaft 1`, { coreMassG: 300 }, basedOn(made))).status).toBe(200)
  })
})

describe('a position', () => {
  const places = async (url: string) =>
    (await ask('GET', `${url}?sort=name`)).body.items.map(
      (one: Record<string, unknown>) => `${one.name}: ${one.position} ${one.positionSlot}`,
    )

  it('takes one anode at a time; a second of the same label gets a slot of its own', async () => {
    const url = await boatNamed('Slots')
    await fitAnode(url, 'a', 'hull', { removedOn: '2031-01-01' })
    await fitAnode(url, 'b', 'Hull')
    await fitAnode(url, 'c', 'hull', { fittedOn: '2031-01-01' })
    await fitAnode(url, 'd', 'hull', { fittedOn: '2031-01-01' })
    await fitAnode(url, 'e', 'rudder top')
    expect(await places(url)).toEqual(['a: hull 1', 'b: hull 2', 'c: hull 1', 'd: hull 3', 'e: rudder top 1'])
    const rudders = await ask('GET', `${url}?positionKind=rudder`)
    expect(rudders.body.items.map((one: { name: string }) => one.name)).toEqual(['e'])
  })

  it('is not run into by a change of dates, nor by a move', async () => {
    const url = await boatNamed('Moves')
    const first = await fitAnode(url, 'a', 'hull', { removedOn: '2031-01-01' })
    await fitAnode(url, 'b', 'hull', { fittedOn: '2031-01-01' })
    const still = await ask('PATCH', `${url}/a`, { removedOn: null }, basedOn(first))
    expect([still.status, still.body.code]).toEqual([409, 'position-taken'])
    const third = await fitAnode(url, 'c', 'rudder')
    await ask('PATCH', `${url}/c`, { position: 'hull' }, basedOn(third))
    expect(await places(url)).toEqual(['a: hull 1', 'b: hull 1', 'c: hull 2'])
  })

  it('is chosen once for each of many that are fitted at the same moment', async () => {
    const url = await boatNamed('Crowd')
    const answers = await Promise.all(Array.from({ length: 6 }, (_, index) => fitAnode(url, `h${index}`, 'hull')))
    expect(answers.map((one) => one.status)).toEqual(Array(6).fill(201))
    expect(new Set(answers.map((one) => one.body.positionSlot))).toEqual(new Set([1, 2, 3, 4, 5, 6]))
  })
})

describe('lists of anodes', () => {
  it('page through the fleet, each once, by filter and order', async () => {
    for (const boat of ['Listed A', 'Listed B']) {
      const url = await boatNamed(boat)
      for (const alloy of ['zinc', 'aluminium', 'magnesium']) await fitAnode(url, `one of ${alloy}`, 'hull', { alloy })
    }
    const seen: string[] = []
    let cursor = ''
    do {
      const { body } = await ask('GET', `/v1/anodes?q=one of&sort=-boat&limit=4${cursor}`)
      seen.push(...body.items.map((one: Record<string, unknown>) => `${one.boat}/${one.name}`))
      cursor = body.nextCursor === null ? '' : `&cursor=${body.nextCursor}`
    } while (cursor !== '')
    expect(seen).toHaveLength(6)
    expect(new Set(seen).size).toBe(6)
    expect(seen[0]).toMatch(/^Listed B/)
    const zinc = await ask('GET', '/v1/anodes?boat=Listed A&alloy=zinc')
    expect(zinc.body.items).toHaveLength(1)
  })

  it("show an owner their own boats' anodes alone, and let them change none", async () => {
    const own = await boatNamed('Own', { ownerName: 'Test owner', ownerEmail: server.ownerEmail })
    await fitAnode(own, 'shaft 1', 'shaft')
    const asOwner = askAs(server, await server.actorOf('owner'))
    const list = await asOwner('GET', '/v1/anodes')
    expect(list.body.items.map((one: { boat: string }) => one.boat)).toEqual(['Own'])
    expect((await asOwner('GET', `${own}/shaft 1`)).status).toBe(200)
    expect((await asOwner('GET', '/v1/boats/Worn/anodes/shaft 1')).status).toBe(404)
    expect((await asOwner('GET', '/v1/boats/Worn/anodes')).status).toBe(404)
    expect((await asOwner('POST', own, { name: 'x', position: 'hull', fittedOn: null })).status).toBe(403)
  })
})
