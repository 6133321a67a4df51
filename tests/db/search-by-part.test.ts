import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { BoatQuery } from '../../src/contract/boats.js'
import type { Db } from '../../src/db/client.js'
import { inOrganisation } from '../../src/db/in-organisation.js'
import { pageOfBoats } from '../../src/db/repositories/boats.js'
import { boats, owners } from '../../src/db/schema/index.js'
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
    const terns = Array.from({ length: TERNS }, (_, n) => ({ name: `Tern ${n + 100}`, ownerId: jon!.id }))
    const hers = { name: 'Little Tern', ownerId: ines!.id }
    const named = [...terns, hers, { name: '50 % Wren', ownerId: jon!.id }]
    await db.insert(boats).values(named.map((boat) => ({ organisationId, ...boat })))
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
    expect(await found(manager, { q: 'tern 12', water: 'salt' })).toEqual([])
  })

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
