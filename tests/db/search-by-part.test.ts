import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { BoatQuery, type BoatView } from '../../src/contract/boats.js'
import type { Db } from '../../src/db/client.js'
import { inOrganisation } from '../../src/db/in-organisation.js'
import { pageOfBoats } from '../../src/db/repositories/boats.js'
import { berths, boats, owners, pontoons, stays } from '../../src/db/schema/index.js'
import type { Actor } from '../../src/services/actor.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../database/test-database.js'

const DAY = '2031-04-18'
/** More than are looked up by their ids. */
const TERNS = 230

describe('boats by a part of their name', () => {
  let database: TestDatabase
  let manager: Actor
  let owner: Actor

  beforeAll(async () => {
    database = await createTestDatabase()
    manager = await createOrganisation(database.db)
    owner = { ...manager, role: 'owner', ownerEmail: 'ines@example.org' }
    const other = await createOrganisation(database.db, 'administrator', 'Other yard')
    await fill(database.db, manager.organisationId)
    await fill(database.db, other.organisationId)
  })
  afterAll(() => database.close())

  async function fill(db: Db, organisationId: string): Promise<void> {
    const [ines, jon] = await db
      .insert(owners)
      .values(['Ines@Example.org', 'jon@example.org'].map((email) => ({ organisationId, name: 'Okafor', email })))
      .returning({ id: owners.id })
    const terns = Array.from({ length: TERNS }, (_, n) => ({
      name: `Tern ${n + 100}`,
      ownerId: n % 2 === 0 ? jon!.id : null,
      hull: n % 4 === 0 ? ('steel' as const) : null,
      launchedYear: n % 3 === 0 ? null : 2000 - (n % 50),
    }))
    const hers = { name: 'Little Tern', ownerId: ines!.id }
    const named = [...terns, hers, { name: '50 % Wren', ownerId: jon!.id }]
    const launched = await db
      .insert(boats)
      .values(named.map((boat) => ({ organisationId, ...boat })))
      .returning({ id: boats.id, name: boats.name })
    await layAtBerths(db, organisationId, new Map(launched.map(({ id, name }) => [name, id])))
  }

  /** Three lie at a pontoon, one of them since it left another berth; one stands ashore, one left, one comes later. */
  async function layAtBerths(db: Db, organisationId: string, idOf: ReadonlyMap<string, string>): Promise<void> {
    const [north] = await db.insert(pontoons).values({ organisationId, name: 'North' }).returning({ id: pontoons.id })
    const four = ['N1', 'N2', 'N3', 'N4'].map((name) => ({
      organisationId,
      name,
      pontoonId: north!.id,
      water: 'salt' as const,
    }))
    const [n1, n2, n3, n4] = (await db.insert(berths).values(four).returning({ id: berths.id })).map(({ id }) => id)
    const lies = (boat: string, berthId: string | null | undefined, fromOn: string, toOn: string | null = null) => ({
      organisationId,
      boatId: idOf.get(boat)!,
      berthId: berthId!,
      fromOn,
      toOn,
    })
    await db
      .insert(stays)
      .values([
        lies('Tern 120', n1, '2030-05-01'),
        lies('Tern 123', n4, '2030-05-01', '2031-03-01'),
        lies('Tern 123', n2, '2031-03-01'),
        lies('Tern 128', n3, '2030-05-01', '2031-06-01'),
        lies('Tern 124', null, '2030-05-01'),
        lies('Tern 125', n4, '2030-05-01', DAY),
        lies('Tern 126', n4, '2031-06-01'),
      ])
  }

  /** All that a list holds, page by page. */
  async function all(tx: Db, query: object): Promise<BoatView[]> {
    const items: BoatView[] = []
    let cursor: string | null | undefined
    do {
      const page = await pageOfBoats(tx, manager, DAY, BoatQuery.parse({ ...query, ...(cursor && { cursor }) }))
      items.push(...page.items)
      cursor = page.nextCursor
    } while (cursor)
    return items
  }

  const found = (actor: Actor, query: object) =>
    inOrganisation(database.service, actor, async (tx) => {
      const { items } = await pageOfBoats(tx, actor, DAY, BoatQuery.parse(query))
      return items.map(({ name }) => name)
    })

  it('are found where few hold it, in either case and whatever signs it has', async () => {
    expect(await found(manager, { q: 'WREN' })).toEqual(['50 % Wren'])
    expect(await found(manager, { q: '0 % w' })).toEqual(['50 % Wren'])
    expect(await found(manager, { q: 'e%n' })).toEqual([])
    expect(await found(manager, { q: 'tern 12' })).toHaveLength(10)
    expect(await found(manager, { q: 'tern 12', sort: '-name', limit: 2 })).toEqual(['Tern 129', 'Tern 128'])
    expect(await found(manager, { q: 'tern 12', water: 'fresh' })).toEqual([])
  })

  it.each(['name', '-name', 'launchedYear', '-launchedYear', 'createdAt', '-createdAt'])(
    'are those of the whole list by %s, with their owner and their place, page by page',
    async (sort) => {
      const whole = await inOrganisation(database.service, manager, (tx) => all(tx, { sort, limit: 200 }))
      const expected = whole.filter(({ name }) => name.includes('Tern 12'))
      expect(expected.map(({ currentBerth }) => currentBerth).filter((berth) => berth !== null)).toHaveLength(3)
      const found = (query: object) =>
        inOrganisation(database.service, manager, (tx) => all(tx, { q: 'tern 12', sort, limit: 3, ...query }))
      expect(await found({})).toEqual(expected)
      const afloat = expected.filter(({ currentBerth }) => currentBerth !== null)
      expect(await found({ water: 'salt', limit: 2 })).toEqual(afloat)
      expect(await found({ pontoon: 'North', hull: 'steel' })).toEqual(afloat.filter(({ hull }) => hull === 'steel'))
    },
  )

  it('are found in the order of the list where many hold it', async () => {
    expect(await found(manager, { q: 'ern', limit: 3 })).toEqual(['Little Tern', 'Tern 100', 'Tern 101'])
    expect(await found(manager, { q: 'er', sort: '-name', limit: 2 })).toEqual(['Tern 329', 'Tern 328'])
  })

  it('are the asker’s own, for an owner', async () => {
    expect(await found(owner, { q: 'tern' })).toEqual(['Little Tern'])
    expect(await found(owner, { q: 'wren' })).toEqual([])
  })

  it('are found by their owner’s name, or address in either case', async () => {
    expect(await found(manager, { owner: 'INES@example.org' })).toEqual(['Little Tern'])
    expect(await found(manager, { owner: 'Okafor', q: 'little' })).toEqual(['Little Tern'])
    expect(await found(owner, { owner: 'jon@example.org' })).toEqual([])
  })

  it('are no others to what looks past the rules on rows', async () => {
    const seen = (actor: Actor, asked: ReturnType<typeof sql>) =>
      inOrganisation(database.service, actor, async (tx) => (await tx.select({ id: sql`id` }).from(asked)).length)
    const all = sql`boats_holding('%', 1000) id`
    expect([await seen(manager, all), await seen(owner, all)]).toEqual([TERNS + 2, 1])
    const okafors = sql`owners_called('Okafor') id`
    expect([await seen(manager, okafors), await seen(owner, okafors)]).toEqual([2, 1])
    const nobody = await database.service.select({ id: sql`id` }).from(all)
    expect(nobody).toEqual([])
  })
})
