import { count, eq } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import type { ImportAnswer } from '../../../src/contract/imports.js'
import {
  anodes,
  auditEntries,
  boats,
  haulOuts,
  owners,
  positions,
  potentials,
  stays,
  weighings,
} from '../../../src/db/schema/index.js'
import type { Actor } from '../../../src/services/actor.js'
import { ImportService } from '../../../src/services/imports/import-service.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../../database/test-database.js'
import { RecordedRefits } from '../../http/recorded-refits.js'
import { asSources, type Files, SMALL_FLEET } from './files.js'

const TODAY = '2026-06-15'

let database: TestDatabase
let actor: Actor
let refits: RecordedRefits
let imports: ImportService

beforeAll(async () => {
  database = await createTestDatabase()
})
beforeEach(async () => {
  actor = await createOrganisation(database.db)
  refits = new RecordedRefits()
  imports = new ImportService(database.service, refits, () => TODAY)
})
afterAll(() => database.close())

const load = (files: Files, options = {}): Promise<ImportAnswer> => imports.run(actor, asSources(files), options)

async function auditCount(): Promise<number> {
  const [row] = await database.db
    .select({ entries: count() })
    .from(auditEntries)
    .where(eq(auditEntries.organisationId, actor.organisationId))
  return row?.entries ?? 0
}

const rowsOf = {
  anodes: () => database.db.select().from(anodes).where(eq(anodes.organisationId, actor.organisationId)),
  boats: () => database.db.select().from(boats).where(eq(boats.organisationId, actor.organisationId)),
  weighings: () => database.db.select().from(weighings).where(eq(weighings.organisationId, actor.organisationId)),
}

describe('weighings on the day of a haul-out', () => {
  const lifts = 'boat,on,relaunched_on,planned\nAvocet,2024-04-02,2024-04-05,\n'
  const daysLinked = async () => {
    const lift = await database.db.select().from(haulOuts).where(eq(haulOuts.organisationId, actor.organisationId))
    const on = new Map(lift.map(({ id, hauledOn }) => [id, hauledOn]))
    const rows = await rowsOf.weighings()
    return rows.map(({ weighedOn, haulOutId }) => [weighedOn, haulOutId && on.get(haulOutId)]).sort()
  }
  const linked = [
    ['2024-04-02', '2024-04-02'],
    ['2024-04-02', '2024-04-02'],
    ['2024-04-02', '2024-04-02'],
    ['2025-04-01', null],
  ]

  it('belong to it, and the same files again change nothing', async () => {
    const files = { ...SMALL_FLEET, 'haul-outs.csv': lifts }
    await load(files)
    expect(await daysLinked()).toEqual(linked)
    const before = await auditCount()
    const again = await load(files)
    expect(again.files['weighings.csv']).toEqual({ rows: 4, created: 0, updated: 0, unchanged: 4 })
    expect(await auditCount()).toBe(before)
  })

  it('belong to it where either comes in a later file', async () => {
    const { 'haul-outs.csv': _, ...withoutLifts } = SMALL_FLEET
    await load(withoutLifts)
    expect((await daysLinked()).every(([, lift]) => lift === null)).toBe(true)
    await load({ 'haul-outs.csv': lifts })
    expect(await daysLinked()).toEqual(linked)
    await load({ 'weighings.csv': SMALL_FLEET['weighings.csv'] })
    expect(await daysLinked()).toEqual(linked)
  })

  it('of another boat do not', async () => {
    await load({ ...SMALL_FLEET, 'haul-outs.csv': lifts.replace('Avocet', 'Stint') })
    expect((await daysLinked()).every(([, lift]) => lift === null)).toBe(true)
  })
})

describe('an import of a whole fleet', () => {
  it('takes all nine files, counts their rows and asks for a refit', async () => {
    const answer = await load(SMALL_FLEET)
    const created = Object.fromEntries(Object.entries(answer.files).map(([name, { created }]) => [name, created]))
    expect(created).toEqual({
      'berths.csv': 3,
      'boats.csv': 3,
      'fittings.csv': 2,
      'anodes.csv': 5,
      'stays.csv': 3,
      'haul-outs.csv': 2,
      'weighings.csv': 4,
      'potentials.csv': 2,
      'continuity.csv': 2,
    })
    for (const { rows, created, updated, unchanged } of Object.values(answer.files)) {
      expect([rows, updated, unchanged]).toEqual([created, 0, 0])
    }
    expect(answer.refit?.kind).toBe('refit')
    expect(refits.askedBy).toEqual([actor.actor])
  })

  it('keeps what the cells say', async () => {
    await load(SMALL_FLEET)
    const [scale] = (await rowsOf.weighings()).filter((row) => row.massG === 620.5)
    expect(scale).toMatchObject({
      weighedOn: '2024-04-02',
      method: 'scale',
      resolutionG: 1,
      cleaned: true,
      submergedMassG: 530,
      submergedIn: 'fresh',
      wastedPercent: null,
      conditions: ['even', 'bright'],
    })
    expect((await rowsOf.weighings()).find((row) => row.massG === 700)?.conditions).toEqual([])
    const [dunlin] = await database.db
      .select({ owner: owners.name, email: owners.email })
      .from(boats)
      .innerJoin(owners, eq(boats.ownerId, owners.id))
      .where(eq(boats.name, 'The "Dunlin"'))
    expect(dunlin).toEqual({ owner: 'Jörg Møller', email: null })
    const measured = await database.db
      .select({ at: potentials.measuredAt })
      .from(potentials)
      .where(eq(potentials.organisationId, actor.organisationId))
    const instants = measured.map(({ at }) => new Date(at).toISOString()).sort()
    expect(instants).toEqual(['2024-06-01T09:30:00.000Z', '2024-06-01T09:45:00.000Z'])
  })

  it('gives anodes of one label their own slots while they sit there together, and the same one in succession', async () => {
    await load(SMALL_FLEET)
    const placed = await database.db
      .select({ name: anodes.name, label: positions.label, slot: positions.slot, kind: positions.kind })
      .from(anodes)
      .innerJoin(positions, eq(anodes.positionId, positions.id))
      .where(eq(anodes.organisationId, actor.organisationId))
    const slots = Object.fromEntries(placed.map(({ name, label, slot }) => [`${label} ${name}`, slot]))
    expect(slots).toEqual({ 'shaft S1': 1, 'shaft S2': 1, 'hull H1': 1, 'hull H2': 2, 'hull port aft H1': 1 })
    expect(placed.find(({ label }) => label === 'hull port aft')?.kind).toBe('hull')
  })

  it('changes nothing when the same files come again', async () => {
    await load(SMALL_FLEET)
    const before = await auditCount()
    const again = await load(SMALL_FLEET)
    for (const { rows, created, updated, unchanged } of Object.values(again.files)) {
      expect([created, updated, unchanged]).toEqual([0, 0, rows])
    }
    expect(await auditCount()).toBe(before)
    expect((await rowsOf.anodes()).every(({ version }) => version === 1)).toBe(true)
  })

  it('takes files one at a time, resolving names against what is stored', async () => {
    const inOrder = [
      'berths',
      'boats',
      'fittings',
      'anodes',
      'stays',
      'haul-outs',
      'weighings',
      'potentials',
      'continuity',
    ]
    for (const name of inOrder) {
      const file = `${name}.csv` as keyof typeof SMALL_FLEET
      const answer = await load({ [file]: SMALL_FLEET[file] })
      expect(Object.keys(answer.files)).toEqual([file])
      expect(answer.files[file]?.created).toBe(answer.files[file]?.rows)
    }
  })

  it('corrects a weighing that changed, and the audit trail keeps what it was', async () => {
    await load(SMALL_FLEET)
    const corrected = SMALL_FLEET['weighings.csv'].replace('620.5', '610')
    const answer = await load({ 'weighings.csv': corrected })
    expect(answer.files['weighings.csv']).toEqual({ rows: 4, created: 0, updated: 1, unchanged: 3 })
    const [entry] = await database.db
      .select()
      .from(auditEntries)
      .where(eq(auditEntries.organisationId, actor.organisationId))
      .then((entries) => entries.filter(({ action, tableName }) => action === 'update' && tableName === 'weighings'))
    expect(entry).toMatchObject({ actor: actor.actor, reason: 'import' })
    expect([entry?.before, entry?.after]).toMatchObject([{ mass_g: 620.5 }, { mass_g: 610 }])
  })

  it.each([
    [80, 100, 150, 200],
    [150, 200, 80, 100],
  ])('corrects a core mass and a weighing that only fit together: %i g, %i g to %i g, %i g', async (...masses) => {
    const [core, mass, coreAfter, massAfter] = masses
    const files = (coreMassG: number, massG: number) => ({
      'boats.csv': 'boat\nKnot\n',
      'anodes.csv': `boat,anode,fitted_on,gross_mass_g,core_mass_g\nKnot,S1,2024-01-01,300,${coreMassG}\n`,
      'weighings.csv': `boat,anode,weighed_on,mass_g\nKnot,S1,2025-01-01,${massG}\n`,
    })
    await load(files(core, mass))
    const answer = await load(files(coreAfter, massAfter))
    expect(answer.files['anodes.csv']?.updated).toBe(1)
    expect((await rowsOf.weighings()).map(({ massG }) => massG)).toEqual([massAfter])
  })

  it('closes one stay and begins the next in one file, whatever the order of its rows', async () => {
    await load(SMALL_FLEET)
    const rows = ['Avocet,2025-05-01,,A1,', 'Avocet,2024-04-05,2025-05-01,"A2, outer",0.5']
    const answer = await load({ 'stays.csv': `boat,from,to,berth,shore_power_hours_per_day\n${rows.join('\n')}\n` })
    expect(answer.files['stays.csv']).toEqual({ rows: 2, created: 1, updated: 1, unchanged: 0 })
    const stored = await database.db.select().from(stays).where(eq(stays.organisationId, actor.organisationId))
    expect(stored).toHaveLength(4)
  })

  it('keeps two imports at the same moment from making one boat twice', async () => {
    const boat = 'boat,hull\nKnot,grp\n'
    const answers = await Promise.all([load({ 'boats.csv': boat }), load({ 'boats.csv': boat })])
    expect(answers.map(({ files }) => files['boats.csv']?.created).sort()).toEqual([0, 1])
    expect(await rowsOf.boats()).toHaveLength(1)
  })
})

describe('a dry run', () => {
  it('counts as the import would, and writes nothing', async () => {
    const answer = await load(SMALL_FLEET, { dryRun: true })
    expect(answer.dryRun).toBe(true)
    expect(answer.refit).toBeNull()
    expect(answer.files['weighings.csv']).toEqual({ rows: 4, created: 4, updated: 0, unchanged: 0 })
    expect(await auditCount()).toBe(0)
    expect(await rowsOf.boats()).toEqual([])
    expect(refits.askedBy).toEqual([])
  })

  it('finds the errors that the import would', async () => {
    const files = { 'boats.csv': 'boat,hull\nKnot,tin\n' }
    const [dry, real] = await Promise.allSettled([load(files, { dryRun: true }), load(files)])
    expect(dry.status).toBe('rejected')
    expect((dry as PromiseRejectedResult).reason.errors).toEqual((real as PromiseRejectedResult).reason.errors)
  })
})

describe('progress', () => {
  it('rises to the number of rows', async () => {
    const seen: { step: string; done: number; rows?: number }[] = []
    await load(SMALL_FLEET, { onProgress: (progress: (typeof seen)[number]) => seen.push(progress) })
    expect(new Set(seen.map(({ step }) => step))).toEqual(new Set(['reading', 'checking', 'writing']))
    expect(seen.at(-1)).toMatchObject({ step: 'writing', done: 26, rows: 26 })
  })
})

describe('a planned haul-out', () => {
  it('may lie ahead', async () => {
    await load(SMALL_FLEET)
    const stored = await database.db.select().from(haulOuts).where(eq(haulOuts.organisationId, actor.organisationId))
    expect(stored.map(({ hauledOn }) => hauledOn).sort()).toEqual(['2023-11-01', '2099-11-01'])
  })
})
