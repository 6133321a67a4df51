import fc from 'fast-check'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { CONFIRMABLE_DOUBTS, type NewWeighing, type WeighingView } from '../../../src/contract/weighings.js'
import type { Actor } from '../../../src/services/actor.js'
import { AnodeService } from '../../../src/services/anodes/anodes.js'
import { Conflict, Invalid } from '../../../src/services/errors.js'
import { BoatService } from '../../../src/services/fleet/boats.js'
import { WeighingService } from '../../../src/services/weighings/weighings.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../../database/test-database.js'
import { RecordedRefits } from '../../http/recorded-refits.js'

const TODAY = '2031-06-15'
const FITTED_ON = '2030-06-01'
const REMOVED_ON = '2031-03-01'
const CORE_G = 80

let database: TestDatabase
let actor: Actor
let anodes: AnodeService
let weighings: WeighingService

beforeAll(async () => {
  database = await createTestDatabase()
  actor = await createOrganisation(database.db, 'staff')
  const refits = new RecordedRefits()
  const today = () => TODAY
  anodes = new AnodeService(database.service, refits, today)
  weighings = new WeighingService(database.service, refits, today)
  await new BoatService(database.service, refits, today).create(actor, { name: 'Wren' })
})
afterAll(() => database.close())

const day = fc
  .integer({ min: -40, max: 420 })
  .map((after) => new Date(Date.parse(FITTED_ON) + after * 86_400_000).toISOString().slice(0, 10))
const onScale = fc.record({
  weighedOn: day,
  method: fc.constant('scale' as const),
  massG: fc.oneof(fc.integer({ min: 1, max: 2000 }), fc.integer({ min: 70, max: 90 }), fc.constant(1_200_000)),
  resolutionG: fc.constantFrom(1, 5, 10),
  cleaned: fc.constantFrom(true, false, null),
  confirm: fc.subarray([...CONFIRMABLE_DOUBTS]),
})
const byEye = fc.record({
  weighedOn: day,
  method: fc.constant('visual' as const),
  wastedPercent: fc.integer({ min: 0, max: 100 }),
})
const byCalipers = fc.record({
  weighedOn: day,
  method: fc.constant('dimensions' as const),
  lengthMm: fc.integer({ min: 1, max: 200 }),
})

async function acceptedOf(given: readonly NewWeighing[], name: string): Promise<WeighingView[]> {
  const accepted: WeighingView[] = []
  for (const weighing of given) {
    try {
      accepted.push(await weighings.create(actor, 'Wren', name, weighing))
    } catch (error) {
      if (!(error instanceof Invalid || error instanceof Conflict)) throw error
    }
  }
  return accepted
}

it('whatever is accepted, in any order, confirmed or not, lies in the anode’s life and above its core', async () => {
  let made = 0
  let acceptedInAll = 0
  await fc.assert(
    fc.asyncProperty(fc.array(fc.oneof(onScale, byEye, byCalipers), { maxLength: 8 }), async (given) => {
      const name = `anode ${++made}`
      const piece = { grossMassG: 1250, coreMassG: CORE_G, lengthMm: 150 }
      await anodes.create(actor, 'Wren', {
        name,
        position: 'shaft',
        fittedOn: FITTED_ON,
        removedOn: REMOVED_ON,
        ...piece,
      })
      const accepted = await acceptedOf(given, name)
      acceptedInAll += accepted.length
      for (const { weighedOn, netMassG, resolutionG } of accepted) {
        expect(weighedOn >= FITTED_ON && weighedOn <= REMOVED_ON).toBe(true)
        // A scale may read low by its own step, no further.
        expect((netMassG ?? Number.NaN) + (resolutionG ?? 0)).toBeGreaterThanOrEqual(0)
      }
      const kept = await weighings.pageOfAnode(actor, 'Wren', name, { limit: 50, sort: 'weighedOn' })
      expect(kept.items.map((one) => one.id).sort()).toEqual(accepted.map((one) => one.id).sort())
      expect(new Set(kept.items.map((one) => one.weighedOn)).size).toBe(kept.items.length)
    }),
    { numRuns: 25 },
  )
  expect(acceptedInAll).toBeGreaterThan(0)
})
