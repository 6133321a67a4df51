import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { CSV_FILE_NAMES } from '../../src/contract/csv/index.js'
import { CONFIRMABLE_DOUBTS } from '../../src/contract/weighings.js'
import { readFleetRecords } from '../../src/db/repositories/fleet-records.js'
import type { FleetHistory } from '../../src/engine/rates/fleet-history.js'
import { readFleetFiles } from '../../src/services/fleet-files/read-fleet-files.js'
import { anodeKey, recordedFleetOf } from '../../src/services/fleet-files/recorded-fleet.js'
import { ImportService } from '../../src/services/imports/import-service.js'
import { fleetHistoryOf } from '../../src/services/model/fleet-history.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../database/test-database.js'
import { RecordedRefits } from '../http/recorded-refits.js'
import { asSources } from '../services/imports/files.js'
import { simulateFleet } from './simulated-fleet.js'
import { fileText } from './write-files.js'

const { rows } = simulateFleet({ start: 3, boats: 6, years: 4, coast: 'enclosed' })
const texts = Object.fromEntries(CSV_FILE_NAMES.map((name) => [name, fileText(rows, name)]))

/** Names for ids, and everything in one order: what the database and the files may differ in. */
function comparable({ berths, boats }: FleetHistory) {
  const by = <T>(list: readonly T[], keyOf: (item: T) => string) =>
    [...list].sort((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1))
  return {
    berths: by(berths, ({ berth }) => berth),
    boats: by(boats, ({ boat }) => boat).map((boat) => ({
      ...boat,
      stays: by(boat.stays, ({ from }) => String(from)),
      haulOuts: by(boat.haulOuts, ({ on }) => String(on)),
      anodes: by(
        boat.anodes.map((anode) => ({ ...anode, key: anodeKey(boat.boat, anode.anode) })),
        ({ key }) => key,
      ),
      // Sums of the fittings' currents differ by the order of adding.
      demandCurrentA: boat.demandCurrentA === null ? null : Number(boat.demandCurrentA.toPrecision(12)),
    })),
  }
}

describe('the files of a simulated fleet', () => {
  let database: TestDatabase

  beforeAll(async () => {
    database = await createTestDatabase()
  })
  afterAll(() => database.close())

  it('are taken by the import, and tell the same history as without a database', async () => {
    const actor = await createOrganisation(database.db)
    const imports = new ImportService(database.service, new RecordedRefits(), () => '2026-06-15')
    // Typing errors are in it: the doubts that a person would look into and confirm.
    await imports.run(actor, asSources(texts), { confirm: CONFIRMABLE_DOUBTS })
    const stored = fleetHistoryOf(await readFleetRecords(database.db, actor.organisationId))
    const files = CSV_FILE_NAMES.map((name) => ({ name, content: asContent(texts[name]!) }))
    const read = fleetHistoryOf(recordedFleetOf(await readFleetFiles(files)))
    expect(comparable(stored)).toEqual(comparable(read))
    expect(read.boats.flatMap(({ anodes }) => anodes).length).toBeGreaterThan(20)
  })
})

async function* asContent(text: string): AsyncGenerator<Uint8Array> {
  yield Buffer.from(text, 'utf8')
}
