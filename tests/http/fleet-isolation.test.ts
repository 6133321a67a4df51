import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { positions } from '../../src/db/schema/index.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

let home: TestServer
let abroad: TestServer
let staff: Ask
let owner: Ask
/** Paths of all that hangs on the owner's boat, and of all that hangs on somebody else's. */
let mine: string[]
let others: string[]

beforeAll(async () => {
  home = await startTestServer({ now: () => new Date('2031-06-15T12:00:00Z') })
  abroad = await startTestServer({ database: home.database, now: () => new Date('2031-06-15T12:00:00Z') })
  staff = askAs(home, await home.actorOf('staff'))
  owner = askAs(home, await home.actorOf('owner'))
  mine = await fleetOf('Mine', home.ownerEmail.toUpperCase(), 'M1')
  others = await fleetOf('Theirs', 'somebody@example.org', 'T1')
})
afterAll(async () => {
  await abroad.app.close()
  await home.close()
})

/** A boat with one of everything. */
async function fleetOf(name: string, ownerEmail: string, berth: string): Promise<string[]> {
  await staff('POST', '/v1/berths', { name: berth })
  const boat = await staff('POST', '/v1/boats', { name, ownerEmail })
  const add = async (path: string, body: object) => {
    const made = await staff('POST', `/v1/boats/${name}/${path}`, body)
    return String(made.headers.location)
  }
  const [position] = await home.database.db
    .insert(positions)
    .values({ organisationId: home.organisationId, boatId: boat.body.id, label: 'shaft', kind: 'shaft' })
    .returning()
  const measuredAt = '2031-04-18T09:30:00Z'
  return [
    `/v1/boats/${name}`,
    `/v1/boats/${boat.body.id}`,
    `/v1/berths/${berth}`,
    `/v1/boats/${name}/positions/${position!.id}`,
    await add('fittings', { name: 'propeller' }),
    `/v1/boats/${name}/fittings/propeller`,
    await add('stays', { berth, fromOn: '2031-01-01' }),
    await add('potentials', { measuredAt, reference: 'sce', volts: -0.9 }),
    await add('continuity', { measuredAt, from: 'propeller', to: 'bond', ohms: 1 }),
  ]
}

const statusesOf = async (ask: Ask, paths: string[]) =>
  Promise.all(paths.map(async (path) => (await ask('GET', path)).status))

describe('an owner', () => {
  it('reads what hangs on their own boat, and nothing of another', async () => {
    expect(await statusesOf(owner, mine)).toEqual(mine.map(() => 200))
    expect(await statusesOf(owner, others)).toEqual(others.map(() => 404))
    expect(await statusesOf(staff, others)).toEqual(others.map(() => 200))
  })

  it.each([
    ['boats', 'name', ['Mine']],
    ['boats?owner=somebody@example.org', 'name', []],
    ['boats?berth=T1', 'name', []],
    ['boats?q=T', 'name', []],
    ['berths', 'name', ['M1']],
    ['stays', 'boat', ['Mine']],
    ['stays?boat=Theirs', 'boat', []],
    ['potentials', 'boat', ['Mine']],
    ['continuity', 'boat', ['Mine']],
  ])('finds in %s only their own', async (list, field, expected) => {
    const { status, body } = await owner('GET', `/v1/${list}`)
    expect(status).toBe(200)
    expect(body.items.map((item: Record<string, string>) => item[field])).toEqual(expected)
  })

  it.each(['fittings', 'positions', 'stays', 'potentials', 'continuity'])(
    "does not find the %s of another's boat",
    async (list) => {
      expect((await owner('GET', `/v1/boats/Mine/${list}`)).body.items).toHaveLength(1)
      expect((await owner('GET', `/v1/boats/Theirs/${list}`)).status).toBe(404)
    },
  )

  it('changes nothing, their own boat included', async () => {
    const match = { 'if-match': '"1"' }
    for (const path of mine) {
      expect((await owner('PATCH', path, {}, match)).status).toBe(403)
      if (path.includes('/positions/')) continue
      expect((await owner('DELETE', path, undefined, match)).status).toBe(403)
    }
    expect((await owner('POST', '/v1/boats', { name: 'New' })).status).toBe(403)
    expect((await owner('POST', '/v1/boats/Mine/stays', { berth: null, fromOn: '2030-01-01' })).status).toBe(403)
  })
})

describe('another organisation', () => {
  it('finds nothing of this one, whatever its role', async () => {
    for (const role of ['administrator', 'manager', 'staff'] as const) {
      const stranger = askAs(abroad, await abroad.actorOf(role))
      const paths = [...mine, ...others]
      expect(await statusesOf(stranger, paths)).toEqual(paths.map(() => 404))
      for (const list of ['boats', 'berths', 'stays', 'potentials', 'continuity']) {
        expect((await stranger('GET', `/v1/${list}`)).body.items).toEqual([])
      }
    }
  })

  it('changes and removes nothing of this one', async () => {
    const stranger = askAs(abroad, await abroad.actorOf('administrator'))
    const before = await Promise.all(mine.map(async (path) => (await staff('GET', path)).body))
    for (const path of mine) {
      const change = path.includes('/positions/') ? { wastingThreshold: 0.1 } : {}
      expect((await stranger('PATCH', path, change, { 'if-match': '"1"' })).status).toBe(404)
      if (path.includes('/positions/')) continue
      expect((await stranger('DELETE', path, undefined, { 'if-match': '"1"' })).status).toBe(404)
    }
    expect(await Promise.all(mine.map(async (path) => (await staff('GET', path)).body))).toEqual(before)
  })

  it('puts no boat of its own at a berth of this one', async () => {
    const stranger = askAs(abroad, await abroad.actorOf('administrator'))
    await stranger('POST', '/v1/boats', { name: 'Mine' })
    const berth = await staff('GET', '/v1/berths/M1')
    for (const named of ['M1', berth.body.id]) {
      const refused = await stranger('POST', '/v1/boats/Mine/stays', { berth: named, fromOn: '2031-01-01' })
      expect([refused.status, refused.body.errors[0].pointer]).toEqual([422, '#/berth'])
    }
  })
})
