import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { IssuedFleets } from '../../../src/services/forecasts/issued-fleets.js'
import { ImportService } from '../../../src/services/imports/import-service.js'
import { FittedFleets } from '../../../src/services/model/fitted-fleets.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../../database/test-database.js'
import { RecordedRefits } from '../../http/recorded-refits.js'
import { fleetFiles } from '../../http/small-fleet.js'
import { asSources } from '../imports/files.js'

const now = () => new Date('2026-06-15T10:00:00Z')
const DAYS = ['2026-05-01', '2026-05-02', '2026-05-03'] as const

/** Counts what is asked of it. */
class CountedEngine extends FittedFleets {
  asked = 0

  override async compute(...given: Parameters<FittedFleets['compute']>) {
    this.asked++
    return super.compute(...given)
  }
}

describe('fleets kept in memory', () => {
  let database: TestDatabase
  let organisationId: string
  let engine: CountedEngine

  beforeAll(async () => {
    database = await createTestDatabase()
  })
  afterAll(() => database.close())
  beforeEach(async () => {
    const actor = await createOrganisation(database.db)
    organisationId = actor.organisationId
    const imports = new ImportService(database.service, new RecordedRefits(), () => '2026-06-15')
    await imports.run(actor, asSources(fleetFiles('ada@example.org')), {})
    engine = new CountedEngine()
  })

  /** How often the engine was asked when all days had been asked for, and then each again, the last one first. */
  async function asksTwice(keptForecasts?: number): Promise<[number, number]> {
    const fleets = new IssuedFleets(database.service, engine, now, keptForecasts)
    for (const day of DAYS) await fleets.on(organisationId, day)
    const first = engine.asked
    for (const day of DAYS.toReversed()) await fleets.on(organisationId, day)
    return [first, engine.asked - first]
  }

  it('are computed once where there is room for all', async () => {
    expect(await asksTwice()).toEqual([3, 0])
  })

  it('make room by the number of their forecasts, the one not asked for the longest first', async () => {
    const { forecasts } = await new IssuedFleets(database.service, engine, now).on(organisationId, DAYS[0])
    engine.asked = 0
    expect(forecasts.length).toBeGreaterThan(1)
    expect(await asksTwice(forecasts.length * 2)).toEqual([3, 1])
  })

  it('keep the one that was asked for last even where it alone is more than there is room for', async () => {
    expect(await asksTwice(1)).toEqual([3, 2])
  })
})
