import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { NewHaulOut } from '../../../src/contract/haul-outs.js'
import type { Actor } from '../../../src/services/actor.js'
import { Invalid } from '../../../src/services/errors.js'
import { BerthService } from '../../../src/services/fleet/berths.js'
import { BoatService } from '../../../src/services/fleet/boats.js'
import { StayService } from '../../../src/services/fleet/stays.js'
import { HaulOutService } from '../../../src/services/haul-outs/haul-outs.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../../database/test-database.js'
import { RecordedRefits } from '../../http/recorded-refits.js'

let database: TestDatabase
let actor: Actor
let boats: BoatService
let stays: StayService
let haulOuts: HaulOutService
const refits = new RecordedRefits()

beforeAll(async () => {
  database = await createTestDatabase()
  actor = await createOrganisation(database.db, 'staff')
  const today = () => '2031-12-31'
  boats = new BoatService(database.service, refits, today)
  stays = new StayService(database.service, refits)
  haulOuts = new HaulOutService(database.service, refits, today)
  const berths = new BerthService(database.service, refits)
  for (const name of ['A1', 'B2', 'C3']) await berths.create(actor, { name })
})
afterAll(() => database.close())

/** A boat with stays written as "A1 2031-01-01..2031-06-01". */
async function boatAt(name: string, ...written: string[]): Promise<string> {
  await boats.create(actor, { name })
  for (const stay of written) {
    const [place = '', fromOn = '', toOn = ''] = stay.split(/ |\.\./)
    const berth = place === 'ashore' ? null : place
    await stays.create(actor, name, { berth, fromOn, toOn: toOn || null, shorePowerHoursPerDay: 6 })
  }
  return name
}

async function staysOf(boat: string): Promise<string[]> {
  const { items } = await stays.pageOfBoat(actor, boat, { limit: 50, sort: 'fromOn' })
  return items.map(({ berth, fromOn, toOn }) => `${berth ?? 'ashore'} ${fromOn}..${toOn ?? ''}`)
}

const lift = (boat: string, hauledOn: string, relaunchedOn: string | null, berth: string | null) =>
  haulOuts.create(actor, boat, NewHaulOut.parse({ hauledOn, relaunchedOn, relaunch: { berth } }))

describe('a lift with a relaunch moves the stays along', () => {
  it('to another berth, for as long as the stay that it cuts would have lasted', async () => {
    const boat = await boatAt('Cut', 'A1 2031-01-01..2031-09-01', 'C3 2031-09-01..')
    await lift(boat, '2031-05-01', '2031-05-04', 'B2')
    expect(await staysOf(boat)).toEqual([
      'A1 2031-01-01..2031-05-01',
      'ashore 2031-05-01..2031-05-04',
      'B2 2031-05-04..2031-09-01',
      'C3 2031-09-01..',
    ])
  })

  it('to the day, when it is hauled and relaunched on one', async () => {
    const boat = await boatAt('Day', 'A1 2031-01-01..')
    await lift(boat, '2031-05-01', '2031-05-01', 'B2')
    expect(await staysOf(boat)).toEqual(['A1 2031-01-01..2031-05-01', 'B2 2031-05-01..'])
    const other = await boatAt('Same', 'A1 2031-01-01..')
    await lift(other, '2031-05-01', '2031-05-01', 'A1')
    expect(await staysOf(other)).toEqual(['A1 2031-01-01..'])
  })

  it('where no stay was known, up to the next one that is', async () => {
    const boat = await boatAt('Gap', 'C3 2031-08-01..')
    await lift(boat, '2031-05-01', '2031-05-04', 'A1')
    expect(await staysOf(boat)).toEqual([
      'ashore 2031-05-01..2031-05-04',
      'A1 2031-05-04..2031-08-01',
      'C3 2031-08-01..',
    ])
    const unknown = await boatAt('Unknown')
    await lift(unknown, '2031-05-01', null, null)
    expect(await staysOf(unknown)).toEqual(['ashore 2031-05-01..'])
  })

  it('taking the place of a stay that begins on the day of the haul-out', async () => {
    const boat = await boatAt('Begun', 'A1 2031-05-01..')
    await lift(boat, '2031-05-01', '2031-05-04', 'A1')
    expect(await staysOf(boat)).toEqual(['ashore 2031-05-01..2031-05-04', 'A1 2031-05-04..'])
  })

  it('once, however often it is logged', async () => {
    const boat = await boatAt('Once', 'A1 2031-01-01..')
    const first = await lift(boat, '2031-05-01', '2031-05-04', 'A1')
    const moved = await staysOf(boat)
    const second = await lift(boat, '2031-05-01', '2031-05-04', 'A1')
    expect([first.isNew, second.isNew, second.haulOut.refit]).toEqual([true, false, null])
    expect(await staysOf(boat)).toEqual(moved)
  })

  it('in two steps too: ashore first, relaunched in a later log of the same haul-out', async () => {
    const boat = await boatAt('Steps', 'A1 2031-01-01..2031-09-01')
    const first = await lift(boat, '2031-05-01', null, null)
    expect(await staysOf(boat)).toEqual(['A1 2031-01-01..2031-05-01', 'ashore 2031-05-01..2031-09-01'])
    const second = await lift(boat, '2031-05-01', '2031-05-20', 'B2')
    expect(second.haulOut).toMatchObject({ id: first.haulOut.id, relaunchedOn: '2031-05-20' })
    expect(await staysOf(boat)).toEqual([
      'A1 2031-01-01..2031-05-01',
      'ashore 2031-05-01..2031-05-20',
      'B2 2031-05-20..2031-09-01',
    ])
  })

  it('keeping the hours on shore power of the same berth', async () => {
    const boat = await boatAt('Hours', 'A1 2031-01-01..')
    await lift(boat, '2031-05-01', '2031-05-04', 'A1')
    const { items } = await stays.pageOfBoat(actor, boat, { limit: 50, sort: 'fromOn' })
    expect(items.map((stay) => stay.shorePowerHoursPerDay)).toEqual([6, null, 6])
  })

  it('not over a stay that somebody entered meanwhile: that is refused, and nothing written', async () => {
    const boat = await boatAt('Between', 'A1 2031-01-01..2031-05-02', 'C3 2031-05-02..')
    const before = await staysOf(boat)
    await expect(lift(boat, '2031-05-01', '2031-05-04', 'B2')).rejects.toBeInstanceOf(Invalid)
    expect(await staysOf(boat)).toEqual(before)
    expect((await haulOuts.pageOfBoat(actor, boat, { limit: 50, sort: 'hauledOn' })).items).toEqual([])
  })
})
