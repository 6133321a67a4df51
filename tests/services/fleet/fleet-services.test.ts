import { and, eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { pageQuery } from '../../../src/contract/paging.js'
import { auditEntries, boats, owners, pontoons } from '../../../src/db/schema/index.js'
import type { Actor } from '../../../src/services/actor.js'
import { Conflict, Invalid, NotFound, Stale } from '../../../src/services/errors.js'
import { BerthService } from '../../../src/services/fleet/berths.js'
import { BoatService } from '../../../src/services/fleet/boats.js'
import { StayService } from '../../../src/services/fleet/stays.js'
import type { RefitRequests } from '../../../src/services/jobs/refit-requests.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../../database/test-database.js'
import { RecordedRefits } from '../../http/recorded-refits.js'

let database: TestDatabase
let actor: Actor
let boatService: BoatService
let berthService: BerthService
let stayService: StayService

const today = () => '2031-06-15'

beforeAll(async () => {
  database = await createTestDatabase()
  actor = await createOrganisation(database.db, 'manager')
  const refits = new RecordedRefits()
  boatService = new BoatService(database.service, refits, today)
  berthService = new BerthService(database.service, refits)
  stayService = new StayService(database.service, refits)
})
afterAll(() => database.close())

const ownersNamed = (name: string) =>
  database.db
    .select()
    .from(owners)
    .where(and(eq(owners.organisationId, actor.organisationId), eq(owners.name, name)))

describe('services of the fleet', () => {
  it('refuse with errors of their own', async () => {
    await expect(boatService.read(actor, 'Nobody')).rejects.toThrow(NotFound)
    const boat = await boatService.create(actor, { name: 'Wren' })
    await expect(boatService.change(actor, 'Wren', boat.version + 1, { hull: 'wood' })).rejects.toThrow(Stale)
    await expect(boatService.remove(actor, 'Wren', boat.version + 1)).rejects.toThrow(Stale)
    const stay = { berth: null, fromOn: '2031-01-01', toOn: '2031-02-01' }
    await stayService.create(actor, 'Wren', stay)
    await expect(stayService.create(actor, 'Wren', stay)).rejects.toThrow(Conflict)
    await expect(stayService.create(actor, 'Wren', { ...stay, toOn: '2030-01-01' })).rejects.toThrow(Invalid)
    await expect(stayService.create(actor, 'Wren', { ...stay, berth: 'Nowhere' })).rejects.toThrow(Invalid)
  })

  it('write nothing when the refit cannot be asked for', async () => {
    const broken: RefitRequests = { request: () => Promise.reject(new Error('the queue is gone')) }
    const service = new BoatService(database.service, broken, today)
    const written = await database.db.$count(auditEntries)
    await expect(service.create(actor, { name: 'Unwritten', ownerName: 'Nobody' })).rejects.toThrow('the queue is gone')
    await expect(boatService.read(actor, 'Unwritten')).rejects.toThrow(NotFound)
    expect(await ownersNamed('Nobody')).toEqual([])
    expect(await database.db.$count(auditEntries)).toBe(written)
  })

  it('write the reason that the actor gives into the audit trail', async () => {
    const boat = await boatService.create({ ...actor, reason: 'bought at the show' }, { name: 'Reasoned' })
    const [entry] = await database.db.select().from(auditEntries).where(eq(auditEntries.rowId, boat.id))
    expect(entry).toMatchObject({ action: 'insert', actor: 'test:manager', reason: 'bought at the show' })
  })

  it('never leave a boat without the owner it was given, however boats come and go', async () => {
    let boat = await boatService.create(actor, { name: 'Last one 0', ownerName: 'Dee' })
    for (let round = 1; round <= 15; round++) {
      const [, next] = await Promise.all([
        boatService.remove(actor, boat.id, boat.version),
        boatService.create(actor, { name: `Last one ${round}`, ownerName: 'Dee' }),
      ])
      expect(next.ownerName).toBe('Dee')
      boat = next
    }
    expect(await ownersNamed('Dee')).toHaveLength(1)
    await boatService.remove(actor, boat.id, boat.version)
    expect(await ownersNamed('Dee')).toEqual([])
  })

  it('never leave a berth without its pontoon either', async () => {
    let berth = await berthService.create(actor, { name: 'Last 0', pontoon: 'P' })
    for (let round = 1; round <= 15; round++) {
      const [, next] = await Promise.all([
        berthService.remove(actor, berth.id, berth.version),
        berthService.create(actor, { name: `Last ${round}`, pontoon: 'P' }),
      ])
      expect(next.pontoon).toBe('P')
      berth = next
    }
    await berthService.remove(actor, berth.id, berth.version)
    expect(await database.db.$count(pontoons, eq(pontoons.organisationId, actor.organisationId))).toBe(0)
  })

  it('give a name to one of several who ask for it at once', async () => {
    const asked = await Promise.allSettled(
      Array.from({ length: 6 }, () => boatService.create(actor, { name: 'Wanted', ownerName: 'Eli' })),
    )
    expect(asked.filter(({ status }) => status === 'fulfilled')).toHaveLength(1)
    expect(await database.db.$count(boats, eq(boats.name, 'Wanted'))).toBe(1)
  })
})

it('a list names the first of its sort keys when none is asked for, and refuses what it does not know', () => {
  const query = pageQuery(['name', 'createdAt'])
  expect(query.parse({})).toEqual({ limit: 50, sort: 'name' })
  expect(query.parse({ limit: '200', sort: '-createdAt' })).toEqual({ limit: 200, sort: '-createdAt' })
  expect(query.safeParse({ sort: 'colour' }).success).toBe(false)
  expect(query.safeParse({ colour: 'red' }).success).toBe(false)
})
