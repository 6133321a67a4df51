import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { inOrganisation } from '../../src/db/in-organisation.js'
import {
  anodes,
  auditEntries,
  berths,
  boats,
  findingEvents,
  findings,
  haulOuts,
  pontoons,
  positions,
  stays,
  weighings,
} from '../../src/db/schema/index.js'
import type { Actor } from '../../src/services/actor.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../database/test-database.js'

let database: TestDatabase
let actor: Actor
let foreign: Actor
let boatId: string
let anodeId: string
let positionId: string

beforeAll(async () => {
  database = await createTestDatabase()
  actor = await createOrganisation(database.db)
  foreign = await createOrganisation(database.db)
  await inOrganisation(database.db, actor, async (tx) => {
    const { organisationId } = actor
    const [boat] = await tx.insert(boats).values({ organisationId, name: 'Wren' }).returning()
    boatId = boat!.id
    const [position] = await tx
      .insert(positions)
      .values({ organisationId, boatId, label: 'shaft', kind: 'shaft' })
      .returning()
    positionId = position!.id
    const [anode] = await tx
      .insert(anodes)
      .values({
        organisationId,
        boatId,
        positionId,
        name: 'A1',
        fittedOn: '2024-04-01',
        removedOn: '2025-04-01',
        grossMassG: 1000,
        coreMassG: 80,
      })
      .returning()
    anodeId = anode!.id
  })
})
afterAll(() => database.close())

/** The name of the database rule that refused the work. */
async function refusedBy(work: Promise<unknown>): Promise<string | undefined> {
  try {
    await work
    return undefined
  } catch (error) {
    const cause = (error as { cause?: unknown }).cause ?? error
    return (cause as { constraint?: string }).constraint
  }
}

const weigh = (values: Partial<typeof weighings.$inferInsert>) =>
  inOrganisation(database.db, actor, (tx) =>
    tx.insert(weighings).values({
      organisationId: actor.organisationId,
      anodeId,
      weighedOn: '2024-10-01',
      massG: 800,
      resolutionG: 1,
      ...values,
    }),
  )

describe('a finding', () => {
  /** One with a step, on a boat or on a pontoon. */
  async function openFinding(of: { boatId: string } | { pontoonId: string }): Promise<string> {
    const { organisationId } = actor
    const scope = 'boatId' in of ? ('boat' as const) : ('pontoon' as const)
    return inOrganisation(database.db, actor, async (tx) => {
      const [finding] = await tx
        .insert(findings)
        .values({
          organisationId,
          scope,
          ...of,
          direction: 'fast',
          sinceOn: '2024-05-01',
          surprise: 4,
          detail: {},
          openedOn: '2024-06-01',
          asOf: '2024-06-01',
          seenRevision: 1,
        })
        .returning()
      const step = { organisationId, findingId: finding!.id, actor: actor.actor, kind: 'opened' as const }
      await tx.insert(findingEvents).values({ ...step, toState: 'open' })
      return finding!.id
    })
  }
  const stepsOf = (id: string) => database.db.select().from(findingEvents).where(eq(findingEvents.findingId, id))

  it('has a history that is only ever added to, is in the audit trail, and raises its version', async () => {
    const id = await openFinding({ boatId })
    const change = database.db.update(findingEvents).set({ note: 'never mind' }).where(eq(findingEvents.findingId, id))
    expect(await refusedBy(change)).toBe('finding_events_append_only')
    const removal = database.db.delete(findingEvents).where(eq(findingEvents.findingId, id))
    expect(await refusedBy(removal)).toBe('finding_events_append_only')
    const [step] = await stepsOf(id)
    const [entry] = await database.db.select().from(auditEntries).where(eq(auditEntries.rowId, step!.id))
    expect(entry).toMatchObject({ tableName: 'finding_events', action: 'insert', actor: actor.actor })
    const [row] = await database.db.select().from(findings).where(eq(findings.id, id))
    expect(row!.version).toBe(2)
    await database.db.update(findings).set({ surprise: 5 }).where(eq(findings.id, id))
    const [refigured] = await database.db.select().from(findings).where(eq(findings.id, id))
    expect(refigured!.version).toBe(2)
  })

  it('goes with its boat, and stays when its pontoon goes', async () => {
    const { organisationId } = actor
    const [boat] = await database.db.insert(boats).values({ organisationId, name: 'Sold' }).returning()
    const ofBoat = await openFinding({ boatId: boat!.id })
    await database.db.delete(boats).where(eq(boats.id, boat!.id))
    expect(await stepsOf(ofBoat)).toEqual([])
    const [pontoon] = await database.db.insert(pontoons).values({ organisationId, name: 'P' }).returning()
    const ofPontoon = await openFinding({ pontoonId: pontoon!.id })
    await database.db.delete(pontoons).where(eq(pontoons.id, pontoon!.id))
    expect(await stepsOf(ofPontoon)).toHaveLength(1)
  })

  it('of a boat needs one, and what is resolved a day', async () => {
    const id = await openFinding({ boatId })
    const nobodys = database.db.update(findings).set({ boatId: null }).where(eq(findings.id, id))
    expect(await refusedBy(nobodys)).toBe('findings_of_something')
    const undated = database.db.update(findings).set({ state: 'resolved' }).where(eq(findings.id, id))
    expect(await refusedBy(undated)).toBe('findings_resolved_on_a_day')
  })
})

describe('a boat that is removed', () => {
  it('takes its lifts and weighings along, also where one belongs to the other', async () => {
    const { organisationId } = actor
    const removed = inOrganisation(database.db, actor, async (tx) => {
      const [boat] = await tx.insert(boats).values({ organisationId, name: 'Gone' }).returning()
      const place = { organisationId, boatId: boat!.id, label: 'hull', kind: 'hull' as const }
      const [position] = await tx.insert(positions).values(place).returning()
      const [anode] = await tx
        .insert(anodes)
        .values({ organisationId, boatId: boat!.id, positionId: position!.id, name: 'A1', grossMassG: 500 })
        .returning()
      const [lift] = await tx
        .insert(haulOuts)
        .values({ organisationId, boatId: boat!.id, hauledOn: '2024-05-01' })
        .returning()
      const weighing = { organisationId, anodeId: anode!.id, haulOutId: lift!.id, weighedOn: '2024-05-01', massG: 400 }
      await tx.insert(weighings).values(weighing)
      await tx.delete(boats).where(eq(boats.id, boat!.id))
      return tx.select().from(weighings).where(eq(weighings.anodeId, anode!.id))
    })
    expect(await removed).toEqual([])
  })
})

describe('the database refuses what must never be', () => {
  it('a weighing before the fitting or after the removal', async () => {
    expect(await refusedBy(weigh({ weighedOn: '2024-03-31' }))).toBe('weighings_within_anode_life')
    expect(await refusedBy(weigh({ weighedOn: '2025-04-02' }))).toBe('weighings_within_anode_life')
  })

  it('a mass below the core mass, beyond what the scale resolves', async () => {
    expect(await refusedBy(weigh({ massG: 78 }))).toBe('weighings_not_below_core')
    expect(await refusedBy(weigh({ massG: 79.5, weighedOn: '2024-12-01' }))).toBeUndefined()
  })

  it('a removal before the fitting', async () => {
    const wrong = inOrganisation(database.db, actor, (tx) =>
      tx.update(anodes).set({ removedOn: '2024-01-01' }).where(eq(anodes.id, anodeId)),
    )
    expect(await refusedBy(wrong)).toBe('anodes_removed_after_fitted')
  })

  it('a second anode at a position before the first is removed, but not on the day of its removal', async () => {
    const mount = (name: string, fittedOn: string) =>
      inOrganisation(database.db, actor, (tx) =>
        tx.insert(anodes).values({ organisationId: actor.organisationId, boatId, positionId, name, fittedOn }),
      )
    expect(await refusedBy(mount('A2', '2025-03-31'))).toBe('anodes_one_at_a_position')
    expect(await refusedBy(mount('A2', '2025-04-01'))).toBeUndefined()
  })

  it('two stays of one boat that overlap', async () => {
    const stay = (fromOn: string, toOn: string | null) =>
      inOrganisation(database.db, actor, (tx) =>
        tx.insert(stays).values({ organisationId: actor.organisationId, boatId, fromOn, toOn }),
      )
    expect(await refusedBy(stay('2024-01-01', '2024-06-01'))).toBeUndefined()
    expect(await refusedBy(stay('2024-05-31', null))).toBe('stays_no_overlap')
    expect(await refusedBy(stay('2024-06-01', null))).toBeUndefined()
  })

  it("a row that points at another organisation's row", async () => {
    const [berth] = await inOrganisation(database.db, foreign, (tx) =>
      tx.insert(berths).values({ organisationId: foreign.organisationId, name: 'X1' }).returning(),
    )
    const wrong = inOrganisation(database.db, actor, (tx) =>
      tx.insert(stays).values({
        organisationId: actor.organisationId,
        boatId,
        berthId: berth!.id,
        fromOn: '2020-01-01',
        toOn: '2020-02-01',
      }),
    )
    expect(await refusedBy(wrong)).toMatch(/^stays_.*fk$/)
  })

  it('a weighing changed without a reason; with one, the audit trail keeps what it was', async () => {
    await weigh({ weighedOn: '2024-11-01', massG: 700 })
    const correct = (reason?: string) =>
      inOrganisation(database.db, { ...actor, reason }, (tx) =>
        tx.update(weighings).set({ massG: 710 }).where(eq(weighings.weighedOn, '2024-11-01')),
      )
    expect(await refusedBy(correct())).toBe('weighings_corrected_with_reason')
    expect(await refusedBy(correct('misread the scale'))).toBeUndefined()
    const trail = await database.db.select().from(auditEntries).where(eq(auditEntries.action, 'update'))
    const entry = trail.find((row) => row.tableName === 'weighings' && row.reason !== null)
    expect(entry).toMatchObject({ actor: 'test:administrator', reason: 'misread the scale' })
    const massOf = (row: unknown) => (row as { mass_g: number }).mass_g
    expect([massOf(entry!.before), massOf(entry!.after)]).toEqual([700, 710])
    expect(await refusedBy(database.db.delete(auditEntries))).toBe('audit_trail_append_only')
  })
})
