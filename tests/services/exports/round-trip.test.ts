import fc from 'fast-check'
import Papa from 'papaparse'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { CSV_FILE_NAMES, CSV_FILES } from '../../../src/contract/csv/index.js'
import type { Actor } from '../../../src/services/actor.js'
import { ExportService } from '../../../src/services/exports/export-service.js'
import { ImportService } from '../../../src/services/imports/import-service.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../../database/test-database.js'
import { RecordedRefits } from '../../http/recorded-refits.js'
import { asSources, type Files, SMALL_FLEET } from '../imports/files.js'
import { anyFleet } from './any-fleet.js'

let database: TestDatabase
let imports: ImportService
let exports: ExportService

beforeAll(async () => {
  database = await createTestDatabase()
  imports = new ImportService(database.service, new RecordedRefits(), () => '2026-06-15')
  exports = new ExportService(database.service)
})
afterAll(() => database.close())

const load = (actor: Actor, files: Files) => imports.run(actor, asSources(files))

async function exported(actor: Actor): Promise<Record<string, string>> {
  const files = await exports.all(actor)
  return Object.fromEntries(files.map(({ name, text }) => [name, text]))
}

/** Export → import into an empty organisation → export. */
async function twice(files: Files) {
  const first = await createOrganisation(database.db)
  await load(first, files)
  const before = await exported(first)
  const second = await createOrganisation(database.db)
  await load(second, before)
  return { before, after: await exported(second) }
}

const AWKWARD = {
  'berths.csv': `berth,pontoon,water,salinity_psu,latitude,longitude,shore_power
"=1+1","P ""1"", north",salt,0.1,-89.99999999999999,180,yes
\u00c9tang 7,"two
lines",fresh,1e-7,5e-324,-0.1,
\u4e16\u754c,,,,,,no
`,
  'boats.csv': `boat,owner_name,owner_email,hull,galvanic_isolator,launched_year
"@Heron, II","O'Neil; ""Mac""\r\nand sons",o.neil@example.org,wood,yes,1800
-Tern,,only.mail@example.org,grp,,
+Tern,=HYPERLINK("x"),,,,
T\u00e4rna,,,,,
T\u00e4rn,,,,,
\u{1f30a} wave,,,,,
\ufb01n,,,,,
tern,,,,,
Tern,,,,,
`.replace('=HYPERLINK("x")', '"=HYPERLINK(""x"")"'),
  'anodes.csv': `boat,anode,position,shape,gross_mass_g,core_mass_g
"@Heron, II","1;2",  keel ,"a "" b",0.30000000000000004,1e-9
-Tern,S,,,123456789.125,
`,
} satisfies Files

describe('export, import into nothing, export', () => {
  it('gives the same bytes, whatever the files hold', async () => {
    for (const files of [SMALL_FLEET, AWKWARD]) {
      const { before, after } = await twice(files)
      expect(after).toEqual(before)
      expect(Object.keys(before)).toEqual([...CSV_FILE_NAMES])
    }
  })

  it('gives the same bytes for any fleet', async () => {
    await fc.assert(
      fc.asyncProperty(anyFleet, async (files) => {
        const { before, after } = await twice(files)
        expect(after).toEqual(before)
      }),
      { numRuns: 25 },
    )
  })

  it('changes nothing when the export is imported where it came from', async () => {
    const actor = await createOrganisation(database.db)
    await load(actor, SMALL_FLEET)
    const { files } = await load(actor, await exported(actor))
    for (const { rows, unchanged } of Object.values(files)) expect(unchanged).toBe(rows)
  })

  it('keeps every column: none of the small fleet is left empty throughout, and each comes back', async () => {
    const actor = await createOrganisation(database.db)
    await load(actor, SMALL_FLEET)
    const files = await exported(actor)
    for (const name of CSV_FILE_NAMES) {
      const { data } = Papa.parse<Record<string, string>>(files[name] ?? '', { header: true, skipEmptyLines: true })
      for (const column of Object.keys(CSV_FILES[name].columns)) {
        expect(`${name} ${column}: ${data.some((row) => row[column] !== '')}`).toBe(`${name} ${column}: true`)
      }
    }
  })

  it('orders rows by the code points of their key', async () => {
    const actor = await createOrganisation(database.db)
    await load(actor, AWKWARD)
    const { data } = Papa.parse<string[]>((await exported(actor))['boats.csv'] ?? '', { skipEmptyLines: true })
    const names = data.slice(1).map(([boat]) => boat ?? '')
    const byBytes = [...names].sort((a, b) => Buffer.compare(Buffer.from(a), Buffer.from(b)))
    expect(names).toEqual(byBytes)
  })
})

// RFC 4180, section 2: (1) CRLF ends each record, (3) header, (4) as many fields in each, (5)–(7) quotes. Read by a parser
// that shares no code with the one that imports.
describe('an exported file', () => {
  it('is what RFC 4180 describes', async () => {
    const actor = await createOrganisation(database.db)
    await load(actor, AWKWARD)
    const files = await exported(actor)
    for (const name of CSV_FILE_NAMES) {
      const text = files[name] ?? ''
      const { data, errors, meta } = Papa.parse<string[]>(text, { newline: '\r\n', delimiter: ',' })
      expect(errors).toEqual([])
      expect(meta.aborted).toBe(false)
      expect(text.endsWith('\r\n')).toBe(true)
      expect(data.at(-1)).toEqual([''])
      const records = data.slice(0, -1)
      const columns = Object.keys(CSV_FILES[name].columns)
      expect(records[0]).toEqual(columns)
      expect(records.every((record) => record.length === columns.length)).toBe(true)
    }
    const { data } = Papa.parse<Record<string, string>>(files['boats.csv'] ?? '', { header: true })
    expect(data.find(({ boat }) => boat === '@Heron, II')?.owner_name).toBe('O\'Neil; "Mac"\r\nand sons')
    expect(data.find(({ boat }) => boat === '+Tern')?.owner_name).toBe('=HYPERLINK("x")')
  })

  it('is written by that other parser, too, and reads back the same', async () => {
    const actor = await createOrganisation(database.db)
    await load(actor, AWKWARD)
    const files = await exported(actor)
    const rewritten = Object.fromEntries(
      Object.entries(files).map(([name, text]) => [
        name,
        Papa.unparse(Papa.parse<string[]>(text, { newline: '\r\n', skipEmptyLines: true }).data, { quotes: true }),
      ]),
    )
    const { files: counts } = await load(actor, rewritten)
    for (const { rows, unchanged } of Object.values(counts)) expect(unchanged).toBe(rows)
  })
})

describe("another organisation's fleet", () => {
  it('is not in the export', async () => {
    await load(await createOrganisation(database.db), SMALL_FLEET)
    const empty = await exported(await createOrganisation(database.db))
    for (const name of CSV_FILE_NAMES) expect(empty[name]).toBe(`${Object.keys(CSV_FILES[name].columns).join(',')}\r\n`)
  })
})
