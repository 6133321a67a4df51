import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Ask, askAs, basedOn } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
let ask: Ask
let asOwner: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date('2031-06-15T12:00:00Z') })
  ask = askAs(server, await server.actorOf('staff'))
  asOwner = askAs(server, await server.actorOf('owner'))
  await ask('POST', '/v1/berths', { name: 'B14', water: 'salt' })
})
afterAll(() => server.close())

const COLLAR = { alloy: 'zinc', shape: 'shaft collar', grossMassG: 1250, coreMassG: 80 }

/** A boat with two anodes that were fitted a year ago, at the berth since. */
async function boatWithAnodes(name: string, more: object = {}): Promise<string> {
  await ask('POST', '/v1/boats', { name, ...more })
  const fittedOn = '2030-06-01'
  const url = `/v1/boats/${name}/anodes`
  expect((await ask('POST', url, { name: 'shaft 1', position: 'shaft', fittedOn, ...COLLAR })).status).toBe(201)
  expect((await ask('POST', url, { name: 'hull 1', position: 'hull', fittedOn, ...COLLAR })).status).toBe(201)
  await ask('POST', `/v1/boats/${name}/stays`, { berth: 'B14', fromOn: fittedOn, shorePowerHoursPerDay: 20 })
  return `/v1/boats/${name}`
}

const weighed = (anode: string, massG: unknown = 700, more: object = {}) => ({ anode, massG, cleaned: true, ...more })
const staysOf = async (boat: string) =>
  (await ask('GET', `${boat}/stays`)).body.items.map(
    ({ berth, fromOn, toOn }: Record<string, unknown>) => `${berth ?? 'ashore'} ${fromOn}..${toOn ?? ''}`,
  )

describe('a haul-out', () => {
  it('is logged whole: weighed, replaced, relaunched', async () => {
    const boat = await boatWithAnodes('Whole')
    const logged = await ask('POST', `${boat}/haul-outs`, {
      hauledOn: '2031-06-10',
      relaunchedOn: '2031-06-12',
      note: 'antifouling too',
      weighings: [
        weighed('hull 1', { value: 2, unit: 'lb' }, { conditions: ['even', 'even'] }),
        weighed(
          'shaft 1',
          { value: 0.41, unit: 'kg' },
          { replacedBy: { ...COLLAR, grossMassG: { value: 1.3, unit: 'kg' } } },
        ),
      ],
      relaunch: { berth: 'B14' },
    })
    expect(logged.status).toBe(201)
    expect(logged.headers.location).toBe(`/v1/haul-outs/${logged.body.id}`)
    expect(logged.body).toMatchObject({
      boat: 'Whole',
      hauledOn: '2031-06-10',
      relaunchedOn: '2031-06-12',
      planned: null,
      note: 'antifouling too',
      weighings: [
        // 1 lb = 453.59237 g exactly (1959 agreement).
        { anode: 'hull 1', massG: 907.18474, netMassG: 907.18474 - 80, conditions: ['even'], weighedOn: '2031-06-10' },
        { anode: 'shaft 1', massG: 410, netMassG: 330 },
      ],
      replaced: [{ anode: 'shaft 1', by: 'shaft 2', position: 'shaft' }],
      refit: { kind: 'refit', state: 'queued' },
    })
    expect((await ask('GET', `${boat}/anodes/shaft 1`)).body).toMatchObject({ removedOn: '2031-06-10' })
    expect((await ask('GET', `${boat}/anodes/shaft 2`)).body).toMatchObject({
      position: 'shaft',
      positionSlot: 1,
      fittedOn: '2031-06-10',
      removedOn: null,
      grossMassG: 1300,
      lastWeighing: null,
    })
    expect(await staysOf(boat)).toEqual([
      'B14 2030-06-01..2031-06-10',
      'ashore 2031-06-10..2031-06-12',
      'B14 2031-06-12..',
    ])
    const { refit: _, ...detail } = logged.body
    expect((await ask('GET', `/v1/haul-outs/${logged.body.id}`)).body).toEqual(detail)
  })

  it('is kept not at all when one anode of it cannot be', async () => {
    const boat = await boatWithAnodes('Nothing')
    await ask('POST', `${boat}/anodes`, { name: 'skeg 1', position: 'skeg', fittedOn: '2030-06-01', ...COLLAR })
    const refits = server.refits.askedBy.length
    const refused = await ask('POST', `${boat}/haul-outs`, {
      hauledOn: '2031-06-10',
      relaunchedOn: '2031-06-12',
      weighings: [weighed('hull 1'), weighed('shaft 1', 700, { replacedBy: COLLAR }), weighed('skeg 1', 1.2)],
      relaunch: { berth: 'B14' },
    })
    expect(refused.status).toBe(422)
    expect(refused.body.errors).toEqual([
      {
        pointer: '#/weighings/2/massG',
        code: 'looks-like-kilograms',
        detail: '1.2 g is far below the 1250 g last known; did you mean 1.2 kg (1200 g)?',
      },
    ])
    expect((await ask('GET', `${boat}/haul-outs`)).body.items).toEqual([])
    expect((await ask('GET', '/v1/weighings?boat=Nothing')).body.items).toEqual([])
    expect((await ask('GET', `${boat}/anodes`)).body.items).toHaveLength(3)
    expect(await staysOf(boat)).toEqual(['B14 2030-06-01..'])
    expect(server.refits.askedBy.length).toBe(refits)
  })

  it('names every field that cannot be, at once', async () => {
    const boat = await boatWithAnodes('Faulty')
    await ask('POST', `${boat}/anodes/hull 1/removal`, { removedOn: '2031-01-01' })
    const refused = await ask('POST', `${boat}/haul-outs`, {
      hauledOn: '2031-06-10',
      relaunchedOn: '2031-06-09',
      weighings: [
        weighed('hull 1'),
        weighed('keel 9'),
        { anode: 'shaft 1' },
        weighed('shaft 1', 60, { replacedBy: { grossMassG: 100, coreMassG: 120, name: 'hull 1' } }),
        weighed('shaft 1'),
      ],
      relaunch: { berth: 'B14' },
    })
    expect(refused.status).toBe(422)
    expect(refused.body.errors.map((error: { pointer: string }) => error.pointer)).toEqual([
      '#/relaunchedOn',
      '#/weighings/0/anode',
      '#/weighings/1/anode',
      '#/weighings/2/anode',
      '#/weighings/3/massG',
      '#/weighings/3/replacedBy/coreMassG',
      '#/weighings/3/replacedBy/name',
      '#/weighings/4/anode',
    ])
  })

  it('refuses a berth that is not there, and writes nothing before it finds out', async () => {
    const boat = await boatWithAnodes('Berthless')
    const log = { hauledOn: '2031-06-10', relaunchedOn: '2031-06-10', weighings: [weighed('hull 1')] }
    const refused = await ask('POST', `${boat}/haul-outs`, { ...log, relaunch: { berth: 'Z99' } })
    expect([refused.status, refused.body.errors[0].pointer]).toEqual([422, '#/relaunch/berth'])
    expect((await ask('GET', '/v1/weighings?boat=Berthless')).body.items).toEqual([])
    const ashore = await ask('POST', `${boat}/haul-outs`, { hauledOn: '2031-06-10', relaunch: { berth: null } })
    expect(ashore.status).toBe(201)
    expect(await staysOf(boat)).toEqual(['B14 2030-06-01..2031-06-10', 'ashore 2031-06-10..'])
  })

  it('replaces again and again, each anode after the other', async () => {
    const boat = await boatWithAnodes('Chain')
    const names = ['shaft 1']
    for (const hauledOn of ['2030-10-01', '2031-02-01', '2031-06-01']) {
      const { body } = await ask('POST', `${boat}/haul-outs`, {
        hauledOn,
        weighings: [weighed(names.at(-1)!, 500, { replacedBy: COLLAR })],
      })
      names.push(body.replaced[0].by)
    }
    expect(names).toEqual(['shaft 1', 'shaft 2', 'shaft 3', 'shaft 4'])
    const { body } = await ask('GET', `${boat}/anodes?sort=fittedOn&q=shaft`)
    expect(body.items.map((one: Record<string, unknown>) => [one.positionSlot, one.fittedOn, one.removedOn])).toEqual([
      [1, '2030-06-01', '2030-10-01'],
      [1, '2030-10-01', '2031-02-01'],
      [1, '2031-02-01', '2031-06-01'],
      [1, '2031-06-01', null],
    ])
    const inPlace = await ask('GET', `${boat}/anodes?inPlaceOn=2031-02-01&q=shaft`)
    expect(inPlace.body.items.map((one: { name: string }) => one.name)).toEqual(['shaft 3'])
  })
})

describe('a second log of the same boat and day', () => {
  const log = (...weighings: object[]) => ({ hauledOn: '2031-06-10', weighings })

  it('adds its anodes to the first, and changes nothing when it says the same', async () => {
    const boat = await boatWithAnodes('Twice')
    const first = await ask('POST', `${boat}/haul-outs`, log(weighed('hull 1', 700, { replacedBy: COLLAR })))
    const second = await ask('POST', `${boat}/haul-outs`, log(weighed('shaft 1')))
    expect([first.status, second.status]).toEqual([201, 200])
    expect(second.body.id).toBe(first.body.id)
    expect(second.body.weighings.map((one: { anode: string }) => one.anode)).toEqual(['hull 1', 'shaft 1'])
    const refits = server.refits.askedBy.length
    const again = await ask(
      'POST',
      `${boat}/haul-outs`,
      log(weighed('hull 1', 700, { replacedBy: COLLAR }), weighed('shaft 1')),
    )
    expect(again.status).toBe(200)
    expect(again.body).toEqual({ ...second.body, refit: null })
    expect(server.refits.askedBy.length).toBe(refits)
  })

  it('is refused, naming who logged it, where it says otherwise of the same anode', async () => {
    const boat = await boatWithAnodes('Differing')
    await ask('POST', `${boat}/haul-outs`, log(weighed('shaft 1', 700)))
    const manager = askAs(server, await server.actorOf('manager'))
    const other = await manager('POST', `${boat}/haul-outs`, log(weighed('hull 1'), weighed('shaft 1', 710)))
    expect(other.status).toBe(409)
    expect(other.body.detail).toBe(
      'shaft 1 was weighed on 2031-06-10 already: 700 g (logged by test staff); correct that where it was wrong',
    )
    expect((await ask('GET', '/v1/weighings?boat=Differing')).body.items).toHaveLength(1)
  })

  it('takes in what was weighed by itself that day', async () => {
    const boat = await boatWithAnodes('Adopting')
    const alone = await ask('POST', `${boat}/anodes/shaft 1/weighings`, {
      weighedOn: '2031-06-10',
      massG: 700,
      cleaned: true,
    })
    const { body } = await ask('POST', `${boat}/haul-outs`, log(weighed('shaft 1')))
    expect(body.weighings).toMatchObject([{ id: alone.body.id, haulOutId: body.id }])
  })

  it('fulfils the plan for that day', async () => {
    const boat = await boatWithAnodes('Planned')
    const plan = await ask('POST', `${boat}/haul-outs`, { hauledOn: '2031-06-16', planned: true, note: 'crane at 9' })
    const done = await ask('POST', `${boat}/haul-outs`, { hauledOn: '2031-06-16', weighings: [weighed('shaft 1')] })
    expect(done.body).toMatchObject({ id: plan.body.id, planned: true, note: 'crane at 9' })
  })

  it('of two phones at once leaves both whole, or one and a refusal; never a half', async () => {
    const boat = await boatWithAnodes('Raced')
    const answers = await Promise.all([
      ask('POST', `${boat}/haul-outs`, log(weighed('hull 1', 700, { replacedBy: COLLAR }), weighed('shaft 1', 640))),
      ask('POST', `${boat}/haul-outs`, log(weighed('shaft 1', 650), weighed('hull 1', 710))),
      ask('POST', `${boat}/haul-outs`, log(weighed('shaft 1', 660, { replacedBy: COLLAR }))),
    ])
    expect(answers.map((one) => one.status).sort()).toEqual([201, 409, 409])
    const winner = answers.find((one) => one.status === 201)!
    const { body } = await ask('GET', `/v1/haul-outs/${winner.body.id}`)
    expect(body.weighings).toEqual(winner.body.weighings)
    expect((await ask('GET', '/v1/weighings?boat=Raced')).body.items).toHaveLength(winner.body.weighings.length)
    expect((await ask('GET', `${boat}/anodes`)).body.items).toHaveLength(2 + winner.body.replaced.length)
  })

  it('keeps the anodes of both when two phones log different ones at once', async () => {
    const boat = await boatWithAnodes('Shared')
    const answers = await Promise.all([
      ask('POST', `${boat}/haul-outs`, log(weighed('hull 1'))),
      ask('POST', `${boat}/haul-outs`, log(weighed('shaft 1'))),
    ])
    expect(answers.map((one) => one.status).sort()).toEqual([200, 201])
    expect((await ask('GET', `/v1/haul-outs/${answers[0]!.body.id}`)).body.weighings).toHaveLength(2)
  })
})

describe('a planned haul-out', () => {
  it('may lie ahead, is changed and deleted; an actual one may not', async () => {
    const boat = await boatWithAnodes('Ahead')
    const refused = await ask('POST', `${boat}/haul-outs`, { hauledOn: '2031-06-17' })
    expect([refused.status, refused.body.errors[0].pointer]).toEqual([422, '#/hauledOn'])
    const plan = await ask('POST', `${boat}/haul-outs`, { hauledOn: '2031-09-01', planned: true })
    expect(plan.status).toBe(201)
    const url = `/v1/haul-outs/${plan.body.id}`
    expect((await ask('PATCH', url, { hauledOn: '2031-09-02' })).status).toBe(428)
    const moved = await ask('PATCH', url, { hauledOn: '2031-09-02', note: 'postponed' }, basedOn(plan))
    expect(moved.body).toMatchObject({ hauledOn: '2031-09-02', note: 'postponed', version: 2 })
    expect((await ask('PATCH', url, { planned: false }, basedOn(moved))).status).toBe(422)
    const list = await ask('GET', '/v1/haul-outs?boat=Ahead&planned=true&from=2031-06-15')
    expect(list.body.items).toMatchObject([{ id: plan.body.id, hauledOn: '2031-09-02' }])
    expect((await ask('GET', '/v1/haul-outs?boat=Ahead&planned=false')).body.items).toEqual([])
    expect((await ask('DELETE', url, undefined, basedOn(plan))).status).toBe(412)
    expect((await ask('DELETE', url, undefined, basedOn(moved))).status).toBe(204)
    expect((await ask('GET', url)).status).toBe(404)
  })

  it('with weighings keeps its day and stays', async () => {
    const boat = await boatWithAnodes('Weighed')
    const log = await ask('POST', `${boat}/haul-outs`, { hauledOn: '2031-06-10', weighings: [weighed('hull 1')] })
    const url = `/v1/haul-outs/${log.body.id}`
    expect((await ask('PATCH', url, { hauledOn: '2031-06-11' }, basedOn(log))).status).toBe(409)
    expect((await ask('DELETE', url, undefined, basedOn(log))).status).toBe(409)
    const relaunched = await ask('PATCH', url, { relaunchedOn: '2031-06-11' }, basedOn(log))
    expect(relaunched.body).toMatchObject({ relaunchedOn: '2031-06-11', weighings: [{ anode: 'hull 1' }] })
  })
})

describe('an owner', () => {
  it("reads the haul-outs of their own boats, nobody else's, and logs none", async () => {
    const own = await boatWithAnodes('Own', { ownerName: 'Test owner', ownerEmail: server.ownerEmail })
    const log = { hauledOn: '2031-06-10', weighings: [weighed('hull 1')] }
    const mine = await ask('POST', `${own}/haul-outs`, log)
    const other = await ask('POST', `${await boatWithAnodes('Others')}/haul-outs`, log)
    expect((await asOwner('GET', `/v1/haul-outs/${mine.body.id}`)).status).toBe(200)
    expect((await asOwner('GET', `/v1/haul-outs/${other.body.id}`)).status).toBe(404)
    expect((await asOwner('GET', '/v1/boats/Others/haul-outs')).status).toBe(404)
    const list = await asOwner('GET', '/v1/haul-outs')
    expect(list.body.items.map((one: { boat: string }) => one.boat)).toEqual(['Own'])
    expect((await asOwner('POST', `${own}/haul-outs`, log)).status).toBe(403)
  })
})
