import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { findingsOf, stepsOfFinding } from '../../../src/db/repositories/findings.js'
import { anodes, boats } from '../../../src/db/schema/index.js'
import type { Anomaly } from '../../../src/engine/diagnosis/anomaly.js'
import type { Actor } from '../../../src/services/actor.js'
import { dayNumber } from '../../../src/services/dates/day-numbers.js'
import { FindingSteps } from '../../../src/services/findings/finding-steps.js'
import { ImportService } from '../../../src/services/imports/import-service.js'
import type { FleetQuestion } from '../../../src/services/model/compute-forecasts.js'
import { FittedFleets } from '../../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../../src/services/model/refit.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../../database/test-database.js'
import { RecordedRefits } from '../../http/recorded-refits.js'
import { fleetFiles } from '../../http/small-fleet.js'
import { asSources } from '../imports/files.js'
import { diagnosisOf } from './kept-finding.js'

const now = () => new Date('2026-06-15T10:00:00Z')

let database: TestDatabase
let actor: Actor
let imports: ImportService
/** What the next fits find, in place of what they would. */
let found: Anomaly[] = []
let idOf: (boat: string, anode: string) => string

/** The engine with what it was asked last; a fit waits while the gate is closed. */
class GatedEngine extends FittedFleets {
  asked: FleetQuestion | undefined
  gate: Promise<void> = Promise.resolve()

  constructor() {
    super(() => found)
  }

  override async compute(...given: Parameters<FittedFleets['compute']>) {
    this.asked = given[0]
    const answer = await super.compute(...given)
    await this.gate
    return answer
  }

  /** @returns what opens it */
  close(): () => void {
    let open = () => {}
    this.gate = new Promise((resolve) => {
      open = () => resolve()
    })
    return open
  }
}

beforeAll(async () => {
  database = await createTestDatabase()
})
afterAll(() => database.close())
beforeEach(async () => {
  actor = await createOrganisation(database.db)
  imports = new ImportService(database.service, new RecordedRefits(), () => '2026-06-15')
  await imports.run(actor, asSources(fleetFiles('ada@example.org')), {})
  const rows = await database.db
    .select({ id: anodes.id, anode: anodes.name, boat: boats.name })
    .from(anodes)
    .innerJoin(boats, eq(boats.id, anodes.boatId))
    .where(eq(anodes.organisationId, actor.organisationId))
  idOf = (boat, anode) => rows.find((row) => row.boat === boat && row.anode === anode)!.id
  found = [fastOf('Boat C')]
})

const fastOf = (boat: string, given: Partial<Anomaly> = {}): Anomaly =>
  diagnosisOf({
    scope: 'boat',
    boat,
    berth: 'N3',
    pontoon: null,
    anodes: ['shaft 3', 'hull 3'].map((anode) => idOf(boat, anode)),
    onset: { p10: dayNumber('2025-09-01'), p50: dayNumber('2025-10-01'), p90: dayNumber('2025-11-01') },
    ...given,
  }).anomaly

const refitWith = (engine: FittedFleets) =>
  new RefitService(database.service, engine, now, 0).refit(actor.organisationId, async () => {})
const stepsWith = (engine: FittedFleets) => new FindingSteps(database.service, engine, new RecordedRefits(), now)
const kept = () => findingsOf(database.db, actor.organisationId)

async function weighAgain(massG: number): Promise<void> {
  const weighings = `boat,anode,weighed_on,mass_g,resolution_g,cleaned\nBoat D,hull 3,2026-06-10,${massG},1,yes\n`
  await imports.run(actor, asSources({ 'weighings.csv': weighings }), {})
}

describe('findings of refits', () => {
  it('are there once, though two refits run at once', async () => {
    await Promise.all([refitWith(new GatedEngine()), refitWith(new GatedEngine())])
    const findings = await kept()
    expect(findings).toHaveLength(1)
    expect(await stepsOfFinding(database.db, actor.organisationId, findings[0]!.id)).toHaveLength(1)
  })

  it('are those of the refit that saw more, though one that saw less is done later', async () => {
    const late = new GatedEngine()
    const open = late.close()
    found = [fastOf('Boat C'), fastOf('Boat E')]
    const running = refitWith(late)
    while (late.asked === undefined) await new Promise((resolve) => setTimeout(resolve, 5))
    await weighAgain(650)
    found = [fastOf('Boat C')]
    await refitWith(new GatedEngine())
    open()
    await running
    expect((await kept()).map(({ detail }) => detail.diagnosis.anomaly.boat)).toEqual(['Boat C'])
  })

  it('keep what a check told that was made while the refit ran', async () => {
    const engine = new GatedEngine()
    await refitWith(engine)
    const [finding] = await kept()
    await weighAgain(650)
    const open = engine.close()
    engine.asked = undefined
    const running = refitWith(engine)
    while (engine.asked === undefined) await new Promise((resolve) => setTimeout(resolve, 5))
    const { nextCheck } = finding!.detail.diagnosis
    const made = { check: nextCheck!.check, outcome: nextCheck!.outcomes[0]!.outcome, on: '2026-06-14' }
    await stepsWith(engine).check(actor, finding!.id, undefined, made)
    const told = (await kept())[0]!.detail.diagnosis.causes
    expect(told).not.toEqual(finding!.detail.diagnosis.causes)
    open()
    await running
    expect((await kept())[0]!.detail.diagnosis.causes).toEqual(told)
  })

  it('come with the wear that they explain, once a check has confirmed the cause', async () => {
    const engine = new GatedEngine()
    await refitWith(engine)
    const explained = () =>
      engine.asked!.history.boats.flatMap(({ anodes }) =>
        anodes.filter((anode) => anode.explained).map(({ key }) => key),
      )
    expect(explained()).toEqual([])
    const [finding] = await kept()
    const made = { check: finding!.detail.diagnosis.nextCheck!.check, outcome: 'unclear', on: '2026-06-14' }
    await stepsWith(engine).check(actor, finding!.id, undefined, { ...made, confirms: 'stray-current-onboard' })
    await refitWith(engine)
    expect(explained().sort()).toEqual([idOf('Boat C', 'shaft 3'), idOf('Boat C', 'hull 3')].sort())
    expect((await kept())[0]).toMatchObject({ state: 'checked', confirmedCause: 'stray-current-onboard' })
  })

  it('of boats are closed when their pontoon has it, and one of them goes on as its finding', async () => {
    found = ['Boat C', 'Boat G', 'Boat K'].map((boat) => fastOf(boat))
    await refitWith(new GatedEngine())
    const before = await kept()
    found = [
      fastOf('Boat C', { scope: 'berth', boat: null, berth: 'N3', anodes: found.flatMap(({ anodes }) => anodes) }),
    ]
    await refitWith(new GatedEngine())
    const after = await kept()
    expect(after.map(({ id }) => id).sort()).toEqual(before.map(({ id }) => id).sort())
    expect(after.map(({ state, scope }) => `${scope} ${state}`).sort()).toEqual([
      'berth open',
      'boat closed',
      'boat closed',
    ])
  })

  it('that somebody has reopened are not closed again for what was corrected before', async () => {
    const engine = new GatedEngine()
    await weighAgain(650)
    found = [fastOf('Boat D')]
    await refitWith(engine)
    await weighAgain(700)
    found = []
    await refitWith(engine)
    // What codes and readings show of this fleet is kept beside it.
    const ofTheRate = async () => (await kept()).find(({ scope }) => scope === 'boat')
    const finding = await ofTheRate()
    expect(finding!.state).toBe('closed')
    await stepsWith(engine).reopen(actor, finding!.id, undefined, { note: 'seen in the water' })
    await refitWith(engine)
    expect(await ofTheRate()).toMatchObject({ state: 'open', notSeenSince: '2026-06-15' })
  })
})
