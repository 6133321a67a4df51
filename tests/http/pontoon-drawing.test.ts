import { and, eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { PontoonDrawing } from '../../src/contract/pontoon-drawing.js'
import { berths, drawnBerths, pontoons } from '../../src/db/schema/index.js'
import { type Answer, type Ask, askAs, basedOn } from './ask.js'
import { startTestServer, type TestServer } from './server.js'
import { importFleet } from './small-fleet.js'

const DRAWING = '/v1/pontoons/drawing'
const LINE = { shoreXM: 0, shoreYM: 60, headingDegrees: 0, berthLengthM: 12, berthWidthM: 4.5 }
let server: TestServer
let manager: Ask

beforeAll(async () => {
  server = await startTestServer()
  manager = askAs(server, await server.actorOf('manager'))
})
afterAll(() => server.close())

const draw = async (body: object, before?: Answer) =>
  manager('PUT', DRAWING, body, basedOn(before ?? (await manager('GET', DRAWING))))
const drawn = async (): Promise<PontoonDrawing> => (await manager('GET', DRAWING)).body
const namesOf = (side: readonly { name: string }[]) => side.map(({ name }) => name)
const pontoonOf = (drawing: PontoonDrawing, name: string) => drawing.pontoons.find((one) => one.name === name)!
const planOf = async (pontoon: string) => {
  const { body } = await manager('GET', '/v1/pontoons/plan')
  const found = body.pontoons.find((one: { pontoon: string }) => one.pontoon === pontoon)
  return found?.berths.map(({ berth, side, place }: Record<string, unknown>) => [berth, side, place])
}
/** The drawing as it is, to be sent back with a part of it changed. */
const asSent = ({ pontoons: lines }: PontoonDrawing) =>
  lines.map(({ name: _, left, right, ...line }) => ({
    ...line,
    left: left.map(({ id }) => ({ id })),
    right: right.map(({ id }) => ({ id })),
  }))
describe('the drawing of the pontoons', () => {
  it('is empty before anybody drew, and tells which berths wait for a place', async () => {
    await manager('POST', '/v1/berths', { name: 'W10', pontoon: 'West' })
    await manager('POST', '/v1/berths', { name: 'W2', pontoon: 'West' })
    await manager('POST', '/v1/berths', { name: 'Mooring' })
    const answer = await manager('GET', DRAWING)
    expect(answer.etag).toBe(`"${answer.body.version}"`)
    expect(answer.body.pontoons).toEqual([])
    expect(answer.body.undrawn.map(({ pontoon }: { pontoon: { name: string } | null }) => pontoon?.name)).toEqual([
      'West',
      undefined,
    ])
    expect(namesOf(answer.body.undrawn[0].berths)).toEqual(['W2', 'W10'])
    expect(await planOf('West')).toEqual([
      ['W2', null, null],
      ['W10', null, null],
    ])
  })

  it('makes pontoons and berths, and the plan of the pontoons goes by it', async () => {
    const answer = await draw({
      pontoons: [
        { name: 'North', ...LINE, left: [{ name: 'N1' }, { name: 'N3' }], right: [{ name: 'N2' }] },
        { name: 'Empty', ...LINE, shoreXM: -30, berthLengthM: null, berthWidthM: null, left: [], right: [] },
      ],
    })
    expect(answer.status).toBe(200)
    const north = pontoonOf(answer.body, 'North')
    expect(north).toMatchObject(LINE)
    expect([namesOf(north.left), namesOf(north.right)]).toEqual([['N1', 'N3'], ['N2']])
    expect(await drawn()).toEqual(answer.body)
    expect(await planOf('North')).toEqual([
      ['N1', 'left', 1],
      ['N2', 'right', 1],
      ['N3', 'left', 2],
    ])
    expect((await manager('GET', '/v1/berths/N3')).body).toMatchObject({ pontoon: 'North', planX: null })
  })

  it('moves berths within a pontoon, to its other side and to another one', async () => {
    const before = await drawn()
    const [empty, north] = asSent(before)
    const [n1, n3] = north!.left
    const [n2] = north!.right
    const answer = await draw({
      pontoons: [
        { ...empty, left: [n3] },
        { ...north, left: [n2], right: [n1] },
      ],
    })
    expect(answer.status).toBe(200)
    expect([pontoonOf(answer.body, 'North'), pontoonOf(answer.body, 'Empty')]).toMatchObject([
      { left: [{ name: 'N2' }], right: [{ name: 'N1' }] },
      { left: [{ name: 'N3' }], right: [] },
    ])
    expect((await manager('GET', '/v1/berths/N3')).body.pontoon).toBe('Empty')
  })

  it('asks for new forecasts where berths come, go or change their pontoon, and not where they are only drawn', async () => {
    const asked = () => server.refits.askedBy.length
    const sent = asSent(await drawn())
    const before = asked()
    await draw({ pontoons: sent.map((line) => ({ ...line, headingDegrees: 45, left: line.right, right: line.left })) })
    expect(asked()).toBe(before)
    await draw({ pontoons: sent.map((line) => ({ ...line, right: [...line.right, { name: `New ${line.id}` }] })) })
    expect(asked()).toBe(before + 1)
    const added = (await drawn()).pontoons.flatMap(({ right }) => right.filter(({ name }) => name.startsWith('New')))
    await draw({ pontoons: sent, removed: added.map(({ id }) => id) })
    expect(asked()).toBe(before + 2)
    expect(asSent(await drawn())).toEqual(sent)
  })

  it('renames, also where two change their names for each other', async () => {
    const [empty, north] = asSent(await drawn())
    const [n2] = north!.left
    const [n1] = north!.right
    const answer = await draw({
      pontoons: [
        { ...empty, name: 'North' },
        { ...north, name: 'Empty', left: [{ ...n2, name: 'N1' }], right: [{ ...n1, name: 'N2' }] },
      ],
    })
    expect(answer.status).toBe(200)
    expect(pontoonOf(answer.body, 'Empty')).toMatchObject({
      id: north!.id,
      left: [{ id: n2!.id, name: 'N1' }],
      right: [{ id: n1!.id, name: 'N2' }],
    })
  })

  it('takes a pontoon that exists, and keeps what it does not name on its pontoon', async () => {
    const before = await drawn()
    const west = before.undrawn[0]!
    const answer = await draw({
      pontoons: [
        ...asSent(before),
        { id: west.pontoon!.id, ...LINE, shoreXM: 40, left: [{ id: west.berths[1]!.id }], right: [] },
      ],
    })
    expect(namesOf(pontoonOf(answer.body, 'West').left)).toEqual(['W10'])
    expect(answer.body.undrawn[0]).toMatchObject({ pontoon: { name: 'West' }, berths: [{ name: 'W2' }] })
    expect(await planOf('West')).toEqual([
      ['W2', null, null],
      ['W10', 'left', 1],
    ])
  })

  it('takes berths off their pontoon and off the record, but none where a boat has lain', async () => {
    await manager('POST', '/v1/boats', { name: 'Pipit' })
    await manager('POST', '/v1/boats/Pipit/stays', { berth: 'W10', fromOn: '2026-04-01' })
    const before = await drawn()
    const west = pontoonOf(before, 'West')
    const others = asSent(before).filter(({ id }) => id !== west.id)
    expect(west.left).toMatchObject([{ name: 'W10', hasStays: true }])
    const refused = await draw({ pontoons: others, removed: [west.left[0]!.id] })
    expect([refused.status, refused.body.detail]).toEqual([
      409,
      'boats have stayed at berth W10; a berth with stays is not removed',
    ])
    expect(await drawn()).toEqual(before)
    const w2 = before.undrawn[0]!.berths[0]!.id
    const answer = await draw({ pontoons: others, off: [west.left[0]!.id], removed: [w2] })
    expect(answer.status).toBe(200)
    expect(answer.body.undrawn).toMatchObject([{ pontoon: null, berths: [{ name: 'Mooring' }, { name: 'W10' }] }])
    // Not drawn, and without a berth.
    const left = await server.database.db
      .select()
      .from(pontoons)
      .where(and(eq(pontoons.organisationId, server.organisationId), eq(pontoons.name, 'West')))
    expect(left).toEqual([])
  })
})

describe('two who draw at once', () => {
  it('the second is refused, loses nothing of the first, and goes on from the newest', async () => {
    const read = await manager('GET', DRAWING)
    const [first, ...rest] = asSent(read.body)
    const colleague = askAs(server, await server.actorOf('administrator'))
    const one = await manager('PUT', DRAWING, { pontoons: [{ ...first, shoreXM: 5 }, ...rest] }, basedOn(read))
    expect(one.status).toBe(200)
    const two = await colleague('PUT', DRAWING, { pontoons: [{ ...first, shoreYM: 9 }, ...rest] }, basedOn(read))
    expect(two).toMatchObject({ status: 412, body: { title: 'Precondition Failed' } })
    expect(await drawn()).toEqual(one.body)
    const newest = await colleague('GET', DRAWING)
    const [again, ...others] = asSent(newest.body)
    const three = await colleague('PUT', DRAWING, { pontoons: [{ ...again, shoreYM: 9 }, ...others] }, basedOn(newest))
    expect(three.body.pontoons[0]).toMatchObject({ shoreXM: 5, shoreYM: 9 })
    expect((await manager('PUT', DRAWING, { pontoons: [] })).status).toBe(428)
  })

  it('is refused too where a form, a file or a program changed a berth meanwhile', async () => {
    const read = await manager('GET', DRAWING)
    const berth = await manager('GET', '/v1/berths/Mooring')
    await manager('PATCH', '/v1/berths/Mooring', { name: 'Buoy' }, basedOn(berth))
    expect((await manager('PUT', DRAWING, { pontoons: asSent(read.body) }, basedOn(read))).status).toBe(412)
  })

  it('of requests at the same moment one wins', async () => {
    const read = await manager('GET', DRAWING)
    const sent = asSent(read.body)
    const tried = await Promise.all(
      [1, 2, 3].map((number) =>
        manager('PUT', DRAWING, { pontoons: sent.map((line) => ({ ...line, shoreXM: 100 + number })) }, basedOn(read)),
      ),
    )
    expect(tried.map(({ status }) => status).sort()).toEqual([200, 412, 412])
  })
})

describe('a drawing that cannot be', () => {
  it('is refused with the field and the reason, and nothing is half written', async () => {
    const before = await drawn()
    const [known, other] = asSent(before)
    const fresh = { name: 'East', ...LINE, left: [], right: [] }
    const unknown = '5d0c1c0a-36f8-4a86-8f0e-1f2b7a0f4f21'
    const wrong: [object, number, string | undefined][] = [
      [{ pontoons: [{ ...fresh, headingDegrees: 360 }] }, 400, '#/pontoons/0/headingDegrees'],
      [{ pontoons: [{ ...fresh, shoreXM: 20_000 }] }, 400, '#/pontoons/0/shoreXM'],
      [{ pontoons: [{ ...fresh, berthWidthM: 0 }] }, 400, '#/pontoons/0/berthWidthM'],
      [{ pontoons: [{ ...fresh, name: undefined }] }, 400, '#/pontoons/0'],
      [{ pontoons: [{ ...fresh, left: [{}] }] }, 400, '#/pontoons/0/left/0'],
      [{ pontoons: [{ ...fresh, left: [{ name: ' ' }] }] }, 400, '#/pontoons/0/left/0/name'],
      [{ pontoons: [{ ...fresh, left: [{ id: unknown }] }] }, 422, '#/pontoons/0/left/0/id'],
      [{ pontoons: [{ ...fresh, id: unknown }] }, 422, '#/pontoons/0/id'],
      [{ pontoons: [known, known] }, 422, '#/pontoons/1/id'],
      [{ pontoons: [{ ...fresh, left: [{ name: 'E1' }], right: [{ name: 'E1' }] }] }, 422, '#/pontoons/0/right/0/name'],
      [{ pontoons: [fresh, fresh] }, 422, '#/pontoons/1/name'],
      [{ pontoons: [known, other], off: [known!.left[0]!.id] }, 422, '#/off/0'],
      [{ pontoons: [], removed: [unknown] }, 422, '#/removed/0'],
      [{ pontoons: [{ ...fresh, name: other && pontoonNameOf(before, other.id) }, known] }, 409, undefined],
      [{ pontoons: [{ ...fresh, left: [{ name: 'Buoy' }] }] }, 409, undefined],
    ]
    for (const [body, status, pointer] of wrong) {
      const answer = await draw(body)
      expect([answer.status, answer.body.errors?.[0]?.pointer], JSON.stringify(body)).toEqual([status, pointer])
    }
    expect(await drawn()).toEqual(before)
  })

  it("knows nothing of another organisation's berths and pontoons", async () => {
    const [mine] = (await drawn()).pontoons
    const foreign = await startTestServer()
    const elsewhere = askAs(foreign, await foreign.actorOf('administrator'))
    const read = await elsewhere('GET', DRAWING)
    expect(read.body).toMatchObject({ pontoons: [], undrawn: [] })
    const answer = await elsewhere(
      'PUT',
      DRAWING,
      { pontoons: [{ id: mine!.id, ...LINE, left: [], right: [] }] },
      basedOn(read),
    )
    expect(answer.status).toBe(422)
    await foreign.close()
  })
})

const pontoonNameOf = ({ pontoons: all }: PontoonDrawing, id: string) => all.find((one) => one.id === id)!.name

describe('a berth that files move to another pontoon', () => {
  it('is drawn nowhere until somebody draws it there, and the place that it left may be taken', async () => {
    const north = pontoonOf(await drawn(), 'North')
    expect(namesOf(north.left)).toEqual(['N3'])
    await importFleet(server, { 'berths.csv': 'berth,pontoon\nN3,Empty\n' })
    const after = await drawn()
    expect(pontoonOf(after, 'North').left).toEqual([])
    expect(after.undrawn[0]).toMatchObject({ pontoon: { name: 'Empty' }, berths: [{ name: 'N3' }] })
    expect(await planOf('Empty')).toContainEqual(['N3', null, null])
    const sent = asSent(after).map((line) => (line.id === north.id ? { ...line, left: [{ name: 'N5' }] } : line))
    expect(namesOf(pontoonOf((await draw({ pontoons: sent })).body, 'North').left)).toEqual(['N5'])
  })

  it('takes its place along when it is removed', async () => {
    const berth = await manager('GET', '/v1/berths/N5')
    await manager('DELETE', '/v1/berths/N5', undefined, basedOn(berth))
    const left = await server.database.db.select().from(drawnBerths).where(eq(drawnBerths.berthId, berth.body.id))
    expect(left).toEqual([])
    expect((await drawn()).pontoons.map(({ name }) => name)).toEqual(['Empty'])
  })
})
