import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readFleetRecords } from '../../../src/db/repositories/fleet-records.js'
import type { BoatFacts, FleetFacts } from '../../../src/engine/diagnosis/fleet-facts.js'
import { dayNumber } from '../../../src/services/dates/day-numbers.js'
import { readFleetFiles } from '../../../src/services/fleet-files/read-fleet-files.js'
import { anodeKey, recordedFleetOf } from '../../../src/services/fleet-files/recorded-fleet.js'
import { ImportRejected } from '../../../src/services/imports/cell-errors.js'
import { ImportService } from '../../../src/services/imports/import-service.js'
import { factsKnownBy, fleetFactsOf } from '../../../src/services/model/fleet-facts.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../../database/test-database.js'
import { RecordedRefits } from '../../http/recorded-refits.js'
import { asSources, type Files, SMALL_FLEET } from '../imports/files.js'

async function factsOfFiles(files: Files): Promise<FleetFacts> {
  const sources = []
  for await (const source of asSources(files)) sources.push(source)
  return fleetFactsOf(recordedFleetOf(await readFleetFiles(sources)))
}

function boatOf({ boats }: FleetFacts, name: string): BoatFacts {
  const facts = boats.find(({ boat }) => boat === name)
  if (facts === undefined) throw new Error(`no facts of ${name}`)
  return facts
}

/** Anodes by name instead of id, and everything in one order: what the database and the files may differ in. */
function comparable({ berths, boats }: FleetFacts) {
  const sorted = <T>(items: readonly T[]) => [...items].sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1))
  return {
    berths: sorted(berths),
    boats: sorted(
      boats.map((boat) => ({
        ...boat,
        fittings: sorted(boat.fittings),
        potentials: sorted(boat.potentials),
        continuity: sorted(boat.continuity),
        anodes: sorted(boat.anodes.map((anode) => ({ ...anode, key: anodeKey(boat.boat, anode.anode) }))),
      })),
    ),
  }
}

describe('the facts of a fleet', () => {
  let database: TestDatabase

  beforeAll(async () => {
    database = await createTestDatabase()
  })
  afterAll(() => database.close())

  it('say what the files say', async () => {
    const facts = await factsOfFiles(SMALL_FLEET)
    expect(facts.berths[0]).toEqual({
      berth: 'A1',
      pontoon: 'A',
      water: 'salt',
      salinityPsu: 34.5,
      hasShorePower: true,
    })
    expect(facts.berths[2]).toEqual({ berth: 'R1', pontoon: null, water: null, salinityPsu: null, hasShorePower: null })
    const avocet = boatOf(facts, 'Avocet')
    expect(avocet).toMatchObject({ hull: 'grp', hasIsolator: false })
    expect(avocet.fittings).toContainEqual({
      fitting: 'shaft',
      metal: 'stainless-316-active',
      areaCm2: 1200,
      coated: null,
      bonded: null,
    })
    expect(avocet.stays.map(({ berth, hoursPerDay }) => [berth, hoursPerDay])).toEqual([
      ['A1', 12],
      [null, null],
      ['A2, outer', 0.5],
    ])
    const measured = dayNumber('2024-06-01')
    expect(avocet.potentials).toEqual([
      {
        on: measured,
        fitting: null,
        reference: 'ag-agcl-seawater',
        volts: -0.95,
        shorePower: 'connected',
        circuits: 'on',
      },
      { on: measured, fitting: 'propeller', reference: 'zinc', volts: 0.1, shorePower: 'disconnected', circuits: null },
    ])
    expect(avocet.continuity[0]).toEqual({ on: measured, from: 'S2', to: 'bond', ohms: 0.3 })
    expect(boatOf(facts, 'The "Dunlin"')).toMatchObject({ hull: 'steel', hasIsolator: null })
  })

  it('tell of weighings that say more than a mass', async () => {
    const { anodes } = boatOf(await factsOfFiles(SMALL_FLEET), 'Avocet')
    const looks = Object.fromEntries(anodes.map(({ anode, bonded, looks }) => [anode, { bonded, looks }]))
    const on = dayNumber('2024-04-02')
    expect(looks.S1).toEqual({
      bonded: true,
      looks: [
        {
          on,
          conditions: ['even', 'bright'],
          dryMassG: 620.5,
          submergedMassG: 530,
          submergedIn: 'fresh',
          resolutionG: 1,
        },
      ],
    })
    expect(looks.H2?.looks).toMatchObject([{ on, conditions: ['crusted'], dryMassG: null, submergedMassG: null }])
    expect(looks.H1?.looks).toEqual([])
    expect(looks.S2?.looks).toEqual([])
  })

  it('are the same from the database', async () => {
    const actor = await createOrganisation(database.db)
    await new ImportService(database.service, new RecordedRefits(), () => '2026-06-15').run(
      actor,
      asSources(SMALL_FLEET),
      {},
    )
    const stored = fleetFactsOf(await readFleetRecords(database.db, actor.organisationId))
    expect(comparable(stored)).toEqual(comparable(await factsOfFiles(SMALL_FLEET)))
  })

  it('of a day are what was known by then', async () => {
    const facts = await factsOfFiles(SMALL_FLEET)
    const today = dayNumber('2026-06-15')
    const before = boatOf(factsKnownBy(facts, dayNumber('2024-04-01'), today), 'Avocet')
    expect(before.potentials).toEqual([])
    expect(before.continuity).toEqual([])
    expect(before.anodes.flatMap(({ looks }) => looks)).toEqual([])
    expect(before.stays).toMatchObject([
      { berth: 'A1', to: dayNumber('2023-11-01') },
      { berth: null, to: null },
    ])
    expect(factsKnownBy(facts, today, today)).toEqual(facts)
  })

  it('of files with a reading of a fitting that is not there are refused', async () => {
    const files = { ...SMALL_FLEET, 'fittings.csv': 'boat,fitting\nAvocet,shaft\n' }
    await expect(factsOfFiles(files)).rejects.toThrow(ImportRejected)
  })
})
