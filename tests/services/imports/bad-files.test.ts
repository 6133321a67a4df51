import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import type { ImportError } from '../../../src/contract/imports.js'
import { auditEntries, weighings } from '../../../src/db/schema/index.js'
import type { Actor } from '../../../src/services/actor.js'
import { ImportRejected } from '../../../src/services/imports/cell-errors.js'
import { ImportService } from '../../../src/services/imports/import-service.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../../database/test-database.js'
import { RecordedRefits } from '../../http/recorded-refits.js'
import { asSources, type Files, SMALL_FLEET } from './files.js'

const TODAY = '2026-06-15'

let database: TestDatabase
let actor: Actor
let imports: ImportService

beforeAll(async () => {
  database = await createTestDatabase()
  imports = new ImportService(database.service, new RecordedRefits(), () => TODAY)
})
beforeEach(async () => {
  actor = await createOrganisation(database.db)
})
afterAll(() => database.close())

const load = (files: Files, options = {}) => imports.run(actor, asSources(files), options)

/** What an import is refused for. */
async function refused(files: Files, options = {}): Promise<ImportRejected> {
  const outcome = await load(files, options).then(
    () => undefined,
    (error: unknown) => error,
  )
  if (outcome instanceof ImportRejected) return outcome
  throw outcome ?? new Error('the import was accepted')
}

/** The places of the errors, as `file:line column`. */
async function places(files: Files): Promise<string[]> {
  return (await refused(files)).errors.map(({ file, line, column }) => `${file}:${line} ${column}`)
}

async function onlyError(files: Files): Promise<ImportError> {
  const { errors, errorCount } = await refused(files)
  expect(errorCount).toBe(1)
  return errors[0]!
}

describe('the form of a file', () => {
  it('must be UTF-8: Latin-1 is refused on its line', async () => {
    const latin1 = Buffer.from('boat,owner_name\nAvocet,Ines\nKnot,J\u00f6rg\nStint,Ada\n', 'latin1')
    expect(await onlyError({ 'boats.csv': latin1 })).toMatchObject({ file: 'boats.csv', line: 3, column: null })
    expect((await onlyError({ 'boats.csv': latin1 })).detail).toMatch(/^not UTF-8/)
  })

  it.each([10_000, 16_383])('must be UTF-8 wherever the pieces of a large file meet (%i lines)', async (lines) => {
    const rows = Array.from({ length: lines }, (_, index) => `Boat ${index} \u00e9\u4e16\u{1f30a},grp`)
    const text = Buffer.from(`boat,hull\n${rows.join('\n')}\n`, 'utf8')
    await load({ 'boats.csv': text }, { dryRun: true })
    const bad = Buffer.concat([text, Buffer.from('Gr\u00fcn,grp\n', 'latin1')])
    expect(await onlyError({ 'boats.csv': bad })).toMatchObject({ line: lines + 2 })
  })

  it('may have CRLF, a byte-order mark, no last line break, blank lines at the end, columns in any order', async () => {
    const rows = ['hull,boat', 'grp,Avocet', '"steel","Kn\u00f6t"']
    const answer = await load({ 'boats.csv': `\ufeff${rows.join('\r\n')}` })
    expect(answer.files['boats.csv']).toEqual({ rows: 2, created: 2, updated: 0, unchanged: 0 })
    const again = await load({ 'Boats.CSV': `${rows.join('\n')}\n\n\n` })
    expect(again.files['boats.csv']).toEqual({ rows: 2, created: 0, updated: 0, unchanged: 2 })
  })

  it('counts lines as a text editor does, line breaks within quotes included', async () => {
    const rows = ['boat,owner_name,hull', 'Avocet,"Ines\r\nOkafor\r\n(senior)",grp', 'Knot,"Ada",tin']
    expect(await onlyError({ 'boats.csv': rows.join('\r\n') })).toMatchObject({ line: 5, column: 'hull' })
  })

  it('has every quote closed', async () => {
    const error = await onlyError({ 'boats.csv': 'boat,owner_name\nAvocet,Ines\nKnot,"Ada\nStint,Bo\n' })
    expect(error).toMatchObject({ line: 3, column: 'owner_name' })
    expect(error.detail).toContain('never closed')
  })

  it('has quotes within quotes doubled', async () => {
    expect(await onlyError({ 'boats.csv': 'boat\n"The "Dunlin""\n' })).toMatchObject({ line: 2, column: 'boat' })
    expect(await onlyError({ 'boats.csv': 'boat\nThe "Dunlin"\n' })).toMatchObject({ line: 2, column: 'boat' })
  })

  it('has as many cells in a row as in the header', async () => {
    const error = await onlyError({ 'berths.csv': 'berth,salinity_psu\nA1,34,5\nA2,30\n' })
    expect(error).toMatchObject({ line: 2, column: null })
    expect(error.detail).toContain('3 cells, the header 2')
  })

  it('names its columns, each once, none that is unknown; key columns are there', async () => {
    expect(await places({ 'anodes.csv': 'boat,alloy,alloy,colour\n' })).toEqual([
      'anodes.csv:1 alloy',
      'anodes.csv:1 colour',
      'anodes.csv:1 anode',
    ])
    expect(await onlyError({ 'boats.csv': '' })).toMatchObject({ line: 1, column: null })
    expect(await places({ 'potentials.csv': 'boat,measured_at,volts\n' })).toEqual(['potentials.csv:1 fitting'])
  })

  it.each([';', '\t'])('has commas between its cells: not %j', async (separator) => {
    const error = await onlyError({ 'boats.csv': ['boat,hull', 'Knot,grp'].join('\n').replaceAll(',', separator) })
    expect(error).toMatchObject({ line: 1, column: null })
    expect(error.detail).toContain('commas')
  })

  it('goes by one of nine names', async () => {
    expect(await onlyError({ 'ships.csv': 'boat\nAvocet\n' })).toMatchObject({ file: 'ships.csv', line: null })
    expect(await onlyError({})).toMatchObject({ line: null, column: null })
  })
})

describe('a cell', () => {
  it.each([
    ['berths.csv', 'berth,water\nA1,sea\n', 'water', 'salt, brackish, fresh'],
    ['berths.csv', 'berth,salinity_psu\nA1,"34,5"\n', 'salinity_psu', 'comma'],
    ['berths.csv', 'berth,salinity_psu\nA1,43\n', 'salinity_psu', 'from 0 to 42'],
    ['berths.csv', 'berth,latitude\nA1,54N\n', 'latitude', 'not a number'],
    ['berths.csv', 'berth,longitude\nA1,1e999\n', 'longitude', 'from -180 to 180'],
    ['boats.csv', 'boat,owner_email\nKnot,ines at example\n', 'owner_email', 'e-mail'],
    ['boats.csv', 'boat,launched_year\nKnot,2009.5\n', 'launched_year', 'whole number'],
    ['boats.csv', 'boat\n0d9f5a7e-5b0e-4a53-8c92-64ea37ad0b8f\n', 'boat', 'id'],
    ['boats.csv', `boat\n${'x'.repeat(201)}\n`, 'boat', '200'],
    ['boats.csv', 'boat,hull\n,grp\n', 'boat', 'empty'],
    ['boats.csv', 'boat,owner_name\nKnot,a\0b\n', 'owner_name', 'NUL'],
  ])('of %s is refused with the reason: %j', async (file, text, column, reason) => {
    const error = await onlyError({ [file]: text })
    expect(error).toMatchObject({ file, line: 2, column, pointer: `#/${file}/2/${column}` })
    expect(error.detail).toContain(reason)
  })

  it('names metals that come close to an unknown one', async () => {
    const error = await onlyError({
      'boats.csv': 'boat\nKnot\n',
      'fittings.csv': 'boat,fitting,metal\nKnot,shaft,bronce\n',
    })
    expect(error).toMatchObject({ file: 'fittings.csv', line: 2, column: 'metal' })
    expect(error.detail).toContain('bronze')
  })

  it.each(['2025-02-29', '2025-13-01', '01.04.2025', '2025-4-1', '2025-04-01T00:00:00Z'])(
    'holds a day that exists, as YYYY-MM-DD: not %s',
    async (day) => {
      const files = { ...SMALL_FLEET, 'haul-outs.csv': `boat,on\nAvocet,${day}\n` }
      expect(await onlyError(files)).toMatchObject({ file: 'haul-outs.csv', line: 2, column: 'on' })
    },
  )

  it.each(['2025-04-01T10:00:00', '2025-04-01 10:00:00Z', '2025-04-01T25:00:00Z'])(
    'holds an instant with its offset: not %s',
    async (instant) => {
      const files = {
        'boats.csv': 'boat\nKnot\n',
        'potentials.csv': `boat,measured_at,fitting,volts\nKnot,${instant},,-1\n`,
      }
      expect(await onlyError(files)).toMatchObject({ file: 'potentials.csv', line: 2, column: 'measured_at' })
    },
  )

  it('is told once for each that is bad, of all files; the first 200 by name, the rest as a count', async () => {
    const rows = Array.from({ length: 300 }, (_, index) => `Boat ${index},tin`)
    const { errors, errorCount } = await refused({ 'boats.csv': `boat,hull\n${rows.join('\n')}\n` })
    expect([errors.length, errorCount, errors[199]?.line]).toEqual([200, 300, 201])
  })
})

describe('rows together', () => {
  it('may repeat a key with the same values only', async () => {
    const same = await load({ 'boats.csv': 'boat,hull\nKnot,grp\nKnot, GRP\n' })
    expect(same.files['boats.csv']).toEqual({ rows: 2, created: 1, updated: 0, unchanged: 1 })
    const error = await onlyError({ 'boats.csv': 'boat,hull\nKnot,grp\n\nKnot,wood\n' })
    expect(error).toMatchObject({ line: 4, column: 'boat' })
    expect(error.detail).toContain('line 2')
  })

  it('refer to what there is', async () => {
    const files = {
      ...SMALL_FLEET,
      'stays.csv': 'boat,from,berth\nAvocte,2024-01-01,A1\nAvocet,2024-01-01,Z9\n',
      'weighings.csv': 'boat,anode,weighed_on,mass_g\nAvocet,S9,2024-05-01,800\n',
      'potentials.csv': 'boat,measured_at,fitting,volts\nAvocet,2024-05-01,keel,-1\n',
      'continuity.csv': 'boat,measured_at,from,to,ohms\nAvocet,2024-05-01,keel,bond,1\n',
    }
    expect(await places(files)).toEqual([
      'stays.csv:2 boat',
      'stays.csv:3 berth',
      'weighings.csv:2 anode',
      'potentials.csv:2 fitting',
      'continuity.csv:2 from',
    ])
  })

  it('are not blamed for a row elsewhere that could not be read', async () => {
    const files = { 'boats.csv': 'boat,hull\nAvocet\n', 'haul-outs.csv': 'boat,on\nAvocet,2024-05-01\n' }
    expect(await places(files)).toEqual(['boats.csv:2 null'])
  })

  it('must not have two stays of one boat at once, in the file or with what is stored', async () => {
    const header = 'boat,from,to,berth'
    const files = { ...SMALL_FLEET, 'stays.csv': `${header}\nAvocet,2024-01-01,,A1\nAvocet,2024-06-01,2024-07-01,\n` }
    const inFile = await onlyError(files)
    expect(inFile).toMatchObject({ file: 'stays.csv', line: 3, column: 'from' })
    expect(inFile.detail).toContain('line 2')
    await load(SMALL_FLEET)
    const stored = await onlyError({ 'stays.csv': `${header}\nAvocet,2023-03-01,2023-04-06,R1\n` })
    expect(stored).toMatchObject({ line: 2, column: 'to' })
    expect(await places({ 'stays.csv': `${header}\nAvocet,2023-03-01,2023-02-01,R1\n` })).toEqual(['stays.csv:2 to'])
  })
})

describe('dates and masses', () => {
  const anode = (cells: string) => ({
    'boats.csv': 'boat\nKnot\n',
    'anodes.csv': `boat,anode,fitted_on,removed_on,gross_mass_g,core_mass_g\nKnot,S1,${cells}\n`,
  })
  const weighed = (cells: string, life = '2024-04-01,2025-04-01,1000,80') => ({
    ...anode(life),
    'weighings.csv': `boat,anode,weighed_on,mass_g,resolution_g,cleaned\nKnot,S1,${cells}\n`,
  })

  it.each([
    ['2026-06-17,,,', 'fitted_on'],
    ['2024-04-01,2026-06-17,,', 'removed_on'],
    ['2024-04-01,2024-03-31,,', 'removed_on'],
    ['2024-04-01,,1000,1000', 'core_mass_g'],
    ['2024-04-01,,0,', 'gross_mass_g'],
  ])('of an anode: %s', async (cells, column) => {
    expect(await places(anode(cells))).toEqual([`anodes.csv:2 ${column}`])
  })

  it.each([
    ['2024-03-31,900,1,yes', 'weighed_on', 'fitted on 2024-04-01'],
    ['2025-04-02,900,1,yes', 'weighed_on', 'removed on 2025-04-01'],
    ['2024-10-01,70,1,yes', 'mass_g', 'core mass'],
    ['2024-10-01,0.9,1,yes', 'mass_g', 'did you mean 0.9 kg'],
    ['2024-10-01,1250,1,yes', 'mass_g', 'replaced'],
    ['2024-10-01,,1,yes', 'mass_g', 'needs its mass'],
  ])('of a weighing: %s', async (cells, column, reason) => {
    const error = await onlyError(weighed(cells))
    expect(error).toMatchObject({ file: 'weighings.csv', line: 2, column })
    expect(error.detail).toContain(reason)
  })

  it('in the future are refused, but it may be tomorrow already east of Greenwich', async () => {
    const open = '2024-04-01,,1000,80'
    expect(await places(weighed('2026-06-17,900,1,yes', open))).toEqual(['weighings.csv:2 weighed_on'])
    const tomorrow = await load(weighed('2026-06-16,900,1,yes', open))
    expect(tomorrow.files['weighings.csv']?.created).toBe(1)
    expect(await places({ 'haul-outs.csv': 'boat,on\nKnot,2026-06-17\n' })).toEqual(['haul-outs.csv:2 on'])
    const reading = 'boat,measured_at,from,to,ohms\nKnot,2026-06-17T00:00:00Z,S1,bond,1\n'
    expect(await places({ 'continuity.csv': reading })).toEqual(['continuity.csv:2 measured_at'])
  })

  it('heavier than before within the weighing error are accepted, beyond it only once somebody confirms', async () => {
    await load(weighed('2024-10-01,900,10,no'))
    const header = 'boat,anode,weighed_on,mass_g,resolution_g,cleaned'
    await load({ 'weighings.csv': `${header}\nKnot,S1,2024-11-01,930,10,no\n` })
    const heavier = { 'weighings.csv': `${header}\nKnot,S1,2024-12-01,1350,10,no\n` }
    expect((await onlyError(heavier)).detail).toContain('was the anode replaced?')
    const confirmed = await load(heavier, { confirm: ['heavier-than-before'] })
    expect(confirmed.files['weighings.csv']?.created).toBe(1)
    const again = await load(heavier)
    expect(again.files['weighings.csv']?.unchanged).toBe(1)
  })

  it('heavier than before are let in with a question where a long history holds few of them', async () => {
    const start = Date.parse('2024-04-02')
    const day = (index: number) => new Date(start + index * 86_400_000).toISOString().slice(0, 10)
    const history = (slips: readonly number[]) =>
      weighed(
        Array.from({ length: 200 }, (_, i) => `${day(i)},${slips.includes(i) ? 990 : 990 - 2 * i},1,yes`).join(
          '\nKnot,S1,',
        ),
      )
    const { questions, files } = await load(history([150]))
    expect(files['weighings.csv']?.created).toBe(200)
    expect(questions).toHaveLength(1)
    expect(questions[0]).toMatchObject({ file: 'weighings.csv', line: 152, column: 'mass_g' })
    expect(questions[0]!.detail).toContain('was the anode replaced?')
    expect((await refused(history([100, 120, 140, 160]))).errorCount).toBe(4)
  })

  it('that would make a stored weighing impossible are refused', async () => {
    await load(weighed('2024-10-01,900,1,yes'))
    expect(await places(anode('2024-10-02,2025-04-01,1000,80'))).toEqual(['anodes.csv:2 fitted_on'])
    expect(await places(anode('2024-04-01,2024-09-30,1000,80'))).toEqual(['anodes.csv:2 removed_on'])
    expect(await places(anode('2024-04-01,2025-04-01,1000,950'))).toEqual(['anodes.csv:2 core_mass_g'])
  })
})

describe('one bad cell', () => {
  it('keeps the whole import out', async () => {
    const files = { ...SMALL_FLEET, 'continuity.csv': 'boat,measured_at,from,to,ohms\nAvocet,2024-05-01,S1,bond,-1\n' }
    expect(await places(files)).toEqual(['continuity.csv:2 ohms'])
    const trail = await database.db
      .select()
      .from(auditEntries)
      .where(eq(auditEntries.organisationId, actor.organisationId))
    expect(trail).toEqual([])
    const stored = await database.db.select().from(weighings).where(eq(weighings.organisationId, actor.organisationId))
    expect(stored).toEqual([])
  })
})
