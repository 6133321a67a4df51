import { randomUUID } from 'node:crypto'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { berths, boats, pontoons, stays } from '../../src/db/schema/index.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

const FLEET_SIZE = 120
/** Letters whose order differs between locales: by code point capitals come first and É last. */
const INITIALS = ['a', 'B', 'É', 'z', 'Ö', '_', 'A', 'b'] as const

let server: TestServer
let ask: Ask

interface Boat {
  readonly name: string
  readonly launchedYear: number | null
  readonly createdAt: string
}

beforeAll(async () => {
  server = await startTestServer()
  ask = askAs(server, await server.actorOf('staff'))
  const { organisationId } = server
  const { db } = server.database
  const fleet = Array.from({ length: FLEET_SIZE }, (_, index) => ({
    organisationId,
    id: randomUUID(),
    name: `${INITIALS[index % INITIALS.length]}-${index}`,
    // Many of the same year and many of none, so that the id has to decide, across pages and at the last ones.
    launchedYear: index % 3 === 0 ? null : 1990 + (index % 5),
    // Microseconds apart, which a date in JavaScript cannot tell apart; and ten at a time at the very same instant.
    createdAt: `2031-01-01T00:00:00.${String(Math.floor(index / 10) + 100_000).padStart(6, '0')}Z`,
  }))
  await db.insert(boats).values(fleet)
  const pontoonId = randomUUID()
  await db.insert(pontoons).values({ organisationId, id: pontoonId, name: 'P' })
  const moorings = fleet.map((_, index) => ({
    organisationId,
    name: `berth ${index}`,
    pontoonId: index % 2 === 0 ? pontoonId : null,
  }))
  await db.insert(berths).values(moorings)
  await db.insert(stays).values(
    fleet.map(({ id }, index) => ({
      organisationId,
      boatId: id,
      fromOn: `2030-01-${String((index % 9) + 1).padStart(2, '0')}`,
      toOn: index % 4 === 0 ? null : '2030-02-01',
    })),
  )
})
afterAll(() => server.close())

/** Every page of a list, one after the other. */
async function everything<Item = Boat>(url: string, from?: string): Promise<Item[]> {
  const items: Item[] = []
  for (let cursor = from, pages = 0; pages < 200; pages++) {
    const page = await ask('GET', cursor === undefined ? url : `${url}&cursor=${cursor}`)
    expect(page.status).toBe(200)
    items.push(...page.body.items)
    if (page.body.nextCursor === null) return items
    cursor = page.body.nextCursor
  }
  throw new Error('the pages have no end')
}

const byCodePoint = (a: string, b: string) => Buffer.compare(Buffer.from(a), Buffer.from(b))

describe(`${FLEET_SIZE} boats, page by page`, () => {
  it.each(
    ['name', 'launchedYear', 'createdAt'].flatMap((key) =>
      [key, `-${key}`].flatMap((sort) => [7, 40, 120].map((limit) => [sort, limit] as const)),
    ),
  )('sorted by %s, %i at a time, come once each', async (sort, limit) => {
    const items = await everything(`/v1/boats?sort=${sort}&limit=${limit}`)
    expect(items).toHaveLength(FLEET_SIZE)
    expect(new Set(items.map(({ name }) => name)).size).toBe(FLEET_SIZE)
  })

  it('are in order: names by code point, empty years last both ways', async () => {
    const rising = (await everything('/v1/boats?sort=name&limit=9')).map(({ name }) => name)
    expect(rising).toEqual([...rising].sort(byCodePoint))
    const falling = (await everything('/v1/boats?sort=-name&limit=9')).map(({ name }) => name)
    expect(falling).toEqual([...rising].reverse())

    const years = (items: Boat[]) => items.map(({ launchedYear }) => launchedYear)
    const known = (items: (number | null)[]) => items.filter((year) => year !== null)
    const oldest = years(await everything('/v1/boats?sort=launchedYear&limit=11'))
    const newest = years(await everything('/v1/boats?sort=-launchedYear&limit=11'))
    expect(oldest.slice(-FLEET_SIZE / 3)).toEqual(Array(FLEET_SIZE / 3).fill(null))
    expect(newest.slice(-FLEET_SIZE / 3)).toEqual(Array(FLEET_SIZE / 3).fill(null))
    expect(known(oldest)).toEqual([...known(oldest)].sort((a, b) => a - b))
    expect(known(newest)).toEqual([...known(oldest)].reverse())
  })

  it('come once each while others come and go before the cursor', async () => {
    const first = await ask('GET', '/v1/boats?limit=50')
    await ask('POST', '/v1/boats', { name: '!first of all' })
    const rest = await everything('/v1/boats?limit=50', first.body.nextCursor)
    const names = [...first.body.items, ...rest].map(({ name }: { name: string }) => name)
    expect(names).toHaveLength(FLEET_SIZE)
    expect(new Set(names).size).toBe(FLEET_SIZE)
    const manager = askAs(server, await server.actorOf('manager'))
    await manager('DELETE', '/v1/boats/!first of all', undefined, { 'if-match': '"1"' })
  })

  it('come 50 at a time unless asked otherwise, and at most 200', async () => {
    expect((await ask('GET', '/v1/boats')).body.items).toHaveLength(50)
    expect((await ask('GET', '/v1/boats?limit=200')).body).toMatchObject({ nextCursor: null })
    for (const limit of ['0', '201', '-1', '1.5', 'many', '']) {
      expect((await ask('GET', `/v1/boats?limit=${limit}`)).status).toBe(400)
    }
  })

  it('keep to the filter on every page', async () => {
    const items = await everything('/v1/boats?q=a-&limit=4')
    expect(items.map(({ name }) => name[0]?.toLowerCase())).toEqual(Array(items.length).fill('a'))
    expect(items).toHaveLength(FLEET_SIZE / 4)
  })
})

it.each([
  ['berths', 'name'],
  ['berths', 'pontoon'],
  ['berths', 'createdAt'],
  ['stays', 'fromOn'],
  ['stays', 'toOn'],
  ['stays', 'boat'],
  ['stays', 'createdAt'],
])('%s sorted by %s, either way, come once each', async (list, key) => {
  for (const sort of [key, `-${key}`]) {
    const items = await everything<{ id: string }>(`/v1/${list}?sort=${sort}&limit=13`)
    expect(items).toHaveLength(FLEET_SIZE)
    expect(new Set(items.map(({ id }) => id)).size).toBe(FLEET_SIZE)
  }
})

describe('a cursor', () => {
  const forged = (...content: unknown[]) => Buffer.from(JSON.stringify(content)).toString('base64url')
  const id = '0b9f4d6e-6a5e-4f6f-9a58-2f6d6f0a7c11'

  it.each([
    ['is no cursor at all', 'name', 'garbage'],
    ['is no JSON', 'name', Buffer.from('{').toString('base64url')],
    ['has another shape', 'name', forged('boats', 'name')],
    ["is another list's", 'name', forged('berths', 'name', 'a', id)],
    ["is another order's", 'name', forged('boats', '-name', 'a', id)],
    ['has no id', 'name', forged('boats', 'name', 'a', 'x')],
    ['has a text that cannot be stored', 'name', forged('boats', 'name', 'a\0', id)],
    ['has no number', 'launchedYear', forged('boats', 'launchedYear', '1990; drop table boats', id)],
    ['has no instant', 'createdAt', forged('boats', 'createdAt', 'yesterday', id)],
    ['has a day that is not', 'createdAt', forged('boats', 'createdAt', '2031-02-30T00:00:00Z', id)],
  ])('that %s is refused', async (_, sort, cursor) => {
    const refused = await ask('GET', `/v1/boats?sort=${sort}&cursor=${cursor}`)
    expect(refused.status).toBe(400)
    expect(refused.body.errors).toEqual([
      {
        pointer: '#/cursor',
        detail: 'the cursor is not one that this list gave out for this order; start again without it',
        in: 'query',
      },
    ])
  })
})
