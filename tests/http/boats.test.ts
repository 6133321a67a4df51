import { and, eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { auditEntries, owners, positions, stays } from '../../src/db/schema/index.js'
import { type Ask, askAs, basedOn } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
let ask: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date('2031-06-15T12:00:00Z') })
  ask = askAs(server, await server.actorOf('staff'))
  await ask('POST', '/v1/berths', { name: 'B14', pontoon: 'B', water: 'brackish' })
})
afterAll(() => server.close())

const trailOf = (rowId: string) =>
  server.database.db
    .select()
    .from(auditEntries)
    .where(and(eq(auditEntries.organisationId, server.organisationId), eq(auditEntries.rowId, rowId)))
    .orderBy(auditEntries.id)

describe('a boat', () => {
  it('is added, read by name and by id, changed, and removed', async () => {
    const made = await ask('POST', '/v1/boats', {
      name: 'Wren',
      hull: 'grp',
      ownerName: 'Ada Finch',
      launchedYear: 1998,
    })
    expect(made.status).toBe(201)
    expect(made.etag).toBe('"1"')
    expect(made.headers.location).toBe(`/v1/boats/${made.body.id}`)
    expect(made.body).toMatchObject({
      name: 'Wren',
      ownerName: 'Ada Finch',
      ownerEmail: null,
      hull: 'grp',
      galvanicIsolator: null,
      launchedYear: 1998,
      wastingThreshold: null,
      currentBerth: null,
      ashore: null,
      version: 1,
    })
    for (const boat of ['Wren', made.body.id]) {
      const read = await ask('GET', `/v1/boats/${boat}`)
      expect(read.body).toEqual(made.body)
      expect(read.etag).toBe('"1"')
    }

    const changed = await ask('PATCH', '/v1/boats/Wren', { galvanicIsolator: 'yes', hull: null }, basedOn(made))
    expect(changed.status).toBe(200)
    expect(changed.etag).toBe('"2"')
    expect(changed.body).toMatchObject({ name: 'Wren', hull: null, galvanicIsolator: 'yes', launchedYear: 1998 })

    const manager = askAs(server, await server.actorOf('manager'))
    expect((await ask('DELETE', '/v1/boats/Wren', undefined, basedOn(changed))).status).toBe(403)
    expect((await manager('DELETE', '/v1/boats/Wren', undefined, basedOn(changed))).status).toBe(204)
    expect((await ask('GET', '/v1/boats/Wren')).status).toBe(404)

    const trail = await trailOf(made.body.id)
    expect(trail.map(({ action, actor }) => [action, actor])).toEqual([
      ['insert', 'key:test staff'],
      ['update', 'key:test staff'],
      ['delete', 'key:test manager'],
    ])
    expect(trail[1]?.before).toMatchObject({ hull: 'grp', galvanic_isolator: null })
    expect(trail[1]?.after).toMatchObject({ hull: null, galvanic_isolator: 'yes' })
  })

  it('takes what hangs on it along when it goes; the audit trail keeps it', async () => {
    const boat = await ask('POST', '/v1/boats', { name: 'Going' })
    const stay = await ask('POST', '/v1/boats/Going/stays', { berth: 'B14', fromOn: '2030-01-01' })
    const manager = askAs(server, await server.actorOf('manager'))
    expect((await manager('DELETE', '/v1/boats/Going', undefined, basedOn(boat))).status).toBe(204)
    expect(await server.database.db.select().from(stays).where(eq(stays.id, stay.body.id))).toEqual([])
    expect((await trailOf(stay.body.id)).at(-1)).toMatchObject({ action: 'delete', actor: 'key:test manager' })
  })

  it('of a name that is taken is a conflict', async () => {
    await ask('POST', '/v1/boats', { name: 'Taken' })
    const again = await ask('POST', '/v1/boats', { name: 'Taken' })
    expect([again.status, again.body.detail]).toEqual([409, 'a boat of this name exists already'])
  })

  it('is made once, however often the same POST arrives', async () => {
    const key = { 'idempotency-key': 'phone-1' }
    const first = await ask('POST', '/v1/boats', { name: 'Once' }, key)
    const second = await ask('POST', '/v1/boats', { name: 'Once' }, key)
    expect([first.status, second.status]).toEqual([201, 201])
    expect(second.body).toEqual(first.body)
  })

  it('tells where it lies today', async () => {
    await ask('POST', '/v1/boats', { name: 'Lying' })
    await ask('POST', '/v1/boats', { name: 'Standing' })
    await ask('POST', '/v1/boats/Lying/stays', { berth: null, fromOn: '2031-01-01', toOn: '2031-06-15' })
    await ask('POST', '/v1/boats/Lying/stays', { berth: 'B14', fromOn: '2031-06-15', toOn: '2031-06-16' })
    await ask('POST', '/v1/boats/Standing/stays', { berth: null, fromOn: '2031-06-15' })
    expect((await ask('GET', '/v1/boats/Lying')).body).toMatchObject({ currentBerth: 'B14', ashore: false })
    expect((await ask('GET', '/v1/boats/Standing')).body).toMatchObject({ currentBerth: null, ashore: true })
    for (const filter of ['berth=B14', 'pontoon=B', 'water=brackish']) {
      const { body } = await ask('GET', `/v1/boats?${filter}`)
      expect(body.items.map((boat: { name: string }) => boat.name)).toEqual(['Lying'])
    }
  })
})

describe('changes that meet', () => {
  it('say which version they are based on: 428 without, 412 when it is not the present one', async () => {
    const boat = await ask('POST', '/v1/boats', { name: 'Versions' })
    expect((await ask('PATCH', '/v1/boats/Versions', { hull: 'wood' })).status).toBe(428)
    expect((await ask('PATCH', '/v1/boats/Versions', { hull: 'wood' }, { 'if-match': '*' })).status).toBe(428)
    expect((await ask('PATCH', '/v1/boats/Versions', { hull: 'wood' }, { 'if-match': '"7"' })).status).toBe(412)
    expect((await ask('PATCH', '/v1/boats/Versions', { hull: 'wood' }, { 'if-match': `W/${boat.etag}` })).status).toBe(
      412,
    )
    expect((await ask('DELETE', '/v1/boats/Versions', undefined, basedOn(boat))).status).toBe(403)
    const manager = askAs(server, await server.actorOf('manager'))
    expect((await manager('DELETE', '/v1/boats/Versions')).status).toBe(428)
    expect((await manager('DELETE', '/v1/boats/Versions', undefined, { 'if-match': '"7"' })).status).toBe(412)
    expect((await ask('GET', '/v1/boats/Versions')).body).toEqual(boat.body)
  })

  it('end with one winner: of ten at once one is made and nine are told', async () => {
    const boat = await ask('POST', '/v1/boats', { name: 'Contested' })
    const years = Array.from({ length: 10 }, (_, index) => 1990 + index)
    const answers = await Promise.all(
      years.map((launchedYear) => ask('PATCH', '/v1/boats/Contested', { launchedYear }, basedOn(boat))),
    )
    expect(answers.map(({ status }) => status).sort()).toEqual([200, ...Array(9).fill(412)])
    const winner = answers.find(({ status }) => status === 200)
    expect((await ask('GET', '/v1/boats/Contested')).body).toEqual(winner?.body)
  })

  it('that change nothing keep the version', async () => {
    const boat = await ask('POST', '/v1/boats', { name: 'Steady', hull: 'steel' })
    for (const nothing of [{}, { hull: 'steel' }]) {
      const answer = await ask('PATCH', '/v1/boats/Steady', nothing, basedOn(boat))
      expect([answer.status, answer.etag]).toEqual([200, '"1"'])
    }
  })

  it('ask for new forecasts', async () => {
    const before = server.refits.askedBy.length
    const boat = await ask('POST', '/v1/boats', { name: 'Refitted' })
    await ask('PATCH', '/v1/boats/Refitted', { wastingThreshold: 0.4 }, basedOn(boat))
    await ask('POST', '/v1/boats', { name: 'Refitted' })
    expect(server.refits.askedBy.slice(before)).toEqual(['key:test staff', 'key:test staff'])
  })
})

describe('the owner of a boat', () => {
  const ownersNamed = (name: string) =>
    server.database.db
      .select()
      .from(owners)
      .where(and(eq(owners.organisationId, server.organisationId), eq(owners.name, name)))

  it('is one person for all boats of the same name and address, and goes with the last of them', async () => {
    const ada = { ownerName: 'Ada', ownerEmail: 'Ada@example.org' }
    const first = await ask('POST', '/v1/boats', { name: 'Ada one', ...ada })
    const second = await ask('POST', '/v1/boats', { name: 'Ada two', ...ada })
    expect(await ownersNamed('Ada')).toHaveLength(1)
    for (const owner of ['Ada', 'ada@EXAMPLE.org', (await ownersNamed('Ada'))[0]!.id]) {
      const { body } = await ask('GET', `/v1/boats?owner=${owner}`)
      expect(body.items.map((boat: { name: string }) => boat.name)).toEqual(['Ada one', 'Ada two'])
    }

    const sold = await ask('PATCH', '/v1/boats/Ada one', { ownerName: 'Bo', ownerEmail: null }, basedOn(first))
    expect(sold.body).toMatchObject({ ownerName: 'Bo', ownerEmail: null })
    expect(await ownersNamed('Ada')).toHaveLength(1)
    const without = await ask('PATCH', '/v1/boats/Ada two', { ownerName: null, ownerEmail: null }, basedOn(second))
    expect(without.body).toMatchObject({ ownerName: null, ownerEmail: null })
    expect(await ownersNamed('Ada')).toEqual([])
  })

  it('keeps the half that a change does not name', async () => {
    const boat = await ask('POST', '/v1/boats', { name: 'Half', ownerName: 'Cy', ownerEmail: 'cy@example.org' })
    const changed = await ask('PATCH', '/v1/boats/Half', { ownerName: 'Cy Gull' }, basedOn(boat))
    expect(changed.body).toMatchObject({ ownerName: 'Cy Gull', ownerEmail: 'cy@example.org' })
    expect(await ownersNamed('Cy')).toEqual([])
  })
})

describe("a boat's positions", () => {
  it('are listed and take a threshold of their own', async () => {
    const boat = await ask('POST', '/v1/boats', { name: 'Placed' })
    const { organisationId } = server
    await server.database.db.insert(positions).values([
      { organisationId, boatId: boat.body.id, label: 'shaft', kind: 'shaft' },
      { organisationId, boatId: boat.body.id, label: 'hull port', kind: 'hull' },
    ])
    const list = await ask('GET', '/v1/boats/Placed/positions')
    expect(list.body.items.map((one: { label: string }) => one.label)).toEqual(['hull port', 'shaft'])
    const url = `/v1/boats/Placed/positions/${list.body.items[1].id}`
    const read = await ask('GET', url)
    expect(read.body).toMatchObject({ boat: 'Placed', label: 'shaft', slot: 1, kind: 'shaft', wastingThreshold: null })
    const changed = await ask('PATCH', url, { wastingThreshold: 0.35 }, basedOn(read))
    expect([changed.status, changed.body.wastingThreshold, changed.etag]).toEqual([200, 0.35, '"2"'])
    expect((await ask('PATCH', url, { wastingThreshold: 0.3 }, basedOn(read))).status).toBe(412)
    expect((await ask('PATCH', url, { wastingThreshold: 1 }, basedOn(changed))).status).toBe(400)
    await ask('POST', '/v1/boats', { name: 'Elsewhere' })
    expect((await ask('GET', url.replace('Placed', 'Elsewhere'))).status).toBe(404)
  })
})
