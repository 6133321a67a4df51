import { createHash } from 'node:crypto'
import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { unzipSync } from 'fflate'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { WITHHELD } from '../../../src/db/archive/read-organisation.js'
import { rowsOf, tablesInOrder } from '../../../src/db/backup/table-shapes.js'
import { boats, organisations } from '../../../src/db/schema/index.js'
import type { ArchiveManifest } from '../../../src/services/archive/organisation-archive.js'
import { askAs } from '../../http/ask.js'
import { expectProblem } from '../../http/problem-schema.js'
import { startTestServer, type TestServer } from '../../http/server.js'
import { jpegOf } from '../photos/images.js'

const FOREIGN = 'Nobody else may read of this hull'

let server: TestServer
let files: Record<string, Uint8Array>
let manifest: ArchiveManifest

let folder: string

beforeAll(async () => {
  // A temporary folder of its own: what other tests leave there for a moment is not counted.
  folder = mkdtempSync(join(tmpdir(), 'anode-ledger-test-'))
  process.env.TMPDIR = folder
  server = await startTestServer()
  const { database, organisationId } = server
  const headers = await server.actorOf('administrator')
  const ask = askAs(server, headers)
  await ask('POST', '/v1/boats', { name: 'The "Dunlin", née Möwe \u{1F6A4}' })
  await ask('POST', '/v1/boats', { name: 'Avocet', ownerName: 'Test owner', ownerEmail: server.ownerEmail })
  const anode = { name: 'S1', position: 'shaft', alloy: 'zinc', fittedOn: '2024-04-01', grossMassG: 1250.125 }
  await ask('POST', '/v1/boats/Avocet/anodes', anode)
  const weighed = { weighedOn: '2025-04-18', massG: 900.1 + 0.2, conditions: ['even'] }
  const { body } = await ask('POST', '/v1/boats/Avocet/anodes/S1/weighings', weighed)
  await addPhoto(`/v1/weighings/${(body as { id: string }).id}/photos`, headers)
  await ask('POST', '/v1/webhooks', { name: 'Office', url: 'https://yard.example.org/in', events: ['finding.opened'] })
  const [other] = await database.db.insert(organisations).values({ name: FOREIGN }).returning()
  await database.db.insert(boats).values({ organisationId: other!.id, name: FOREIGN })

  const answer = await server.app.inject({ url: '/v1/organisation/archive', headers })
  expect(answer.statusCode).toBe(200)
  expect(answer.headers['content-type']).toBe('application/zip')
  files = unzipSync(answer.rawPayload)
  manifest = JSON.parse(text('manifest.json'))
  expect(manifest.organisationId).toBe(organisationId)
})
afterAll(async () => {
  delete process.env.TMPDIR
  await server.close()
  rmSync(folder, { recursive: true, force: true })
})

const text = (name: string) => Buffer.from(files[name] ?? []).toString('utf8')
const rowsIn = (table: string): Record<string, unknown>[] =>
  text(`tables/${table}.ndjson`)
    .split('\n')
    .filter(Boolean)
    .map((line) => JSON.parse(line))

async function addPhoto(url: string, headers: Record<string, string>): Promise<void> {
  const form = new FormData()
  form.set('photo', new Blob([new Uint8Array(await jpegOf(64, 48))]), 'anode.jpg')
  const encoded = new Response(form)
  const payload = Buffer.from(await encoded.arrayBuffer())
  const type = encoded.headers.get('content-type') ?? ''
  const answer = await server.app.inject({
    method: 'POST',
    url,
    headers: { ...headers, 'content-type': type },
    payload,
  })
  expect(answer.statusCode, answer.body).toBe(201)
}

describe('the archive of an organisation', () => {
  it('has every row of every table of it, and none of another', async () => {
    const { database, organisationId } = server
    const shapes = await tablesInOrder(database.db)
    const own = shapes.filter(({ columns }) => columns.some(({ name }) => name === 'organisation_id'))
    const expected: Record<string, number> = { organisations: 1 }
    for (const { name } of own) {
      if (name === 'idempotency_keys') continue
      const [row] = await rowsOf<{ count: number }>(
        database.db,
        sql`select count(*)::int as count from ${sql.identifier(name)} where organisation_id = ${organisationId}`,
      )
      expected[name] = row!.count
    }
    expect(Object.fromEntries(manifest.tables.map(({ name, rows }) => [name, rows]))).toEqual(expected)
    expect(Object.fromEntries(Object.keys(expected).map((name) => [name, rowsIn(name).length]))).toEqual(expected)
    expect(expected.boats).toBe(2)
    const all = Object.keys(files).map(text).join('\n')
    expect(all).not.toContain(FOREIGN)
  })

  it('gives numbers and texts as they were entered', () => {
    expect(rowsIn('boats').map(({ name }) => name)).toContain('The "Dunlin", née Möwe \u{1F6A4}')
    expect(rowsIn('weighings')[0]).toMatchObject({
      mass_g: 900.1 + 0.2,
      weighed_on: '2025-04-18',
      conditions: ['even'],
    })
  })

  it('has the photos byte for byte, each under its hash, and says what each file is', async () => {
    const [photo] = rowsIn('photos')
    const name = `photos/${photo!.sha256}.webp`
    const address = `/v1/photos/${photo!.id}?size=full`
    const served = await server.app.inject({ url: address, headers: await server.actorOf('administrator') })
    expect(served.statusCode, address).toBe(200)
    expect(Buffer.from(files[name]!).equals(served.rawPayload)).toBe(true)
    const said = Object.fromEntries(manifest.files.map((file) => [file.name, file.sha256]))
    const found = Object.entries(files).filter(([file]) => file !== 'manifest.json')
    expect(Object.fromEntries(found.map(([file, bytes]) => [file, sha256Of(bytes)]))).toEqual(said)
    expect(manifest.missingPhotos).toEqual([])
  })

  it('holds nothing that opens anything', async () => {
    const [webhook] = await rowsOf<{ secret: string }>(server.database.db, sql`select secret from webhooks`)
    const all = Object.keys(files).map(text).join('\n')
    expect(all).not.toContain(webhook!.secret)
    expect(all).not.toMatch(/whsec_/)
    const hashes = await rowsOf<{ hash: string }>(server.database.db, sql`select secret_sha256 as hash from api_keys`)
    expect(hashes.length).toBeGreaterThan(0)
    // Nor in the trail, which has each row as it was.
    for (const { hash } of hashes) expect(all).not.toContain(hash)
    const columns = manifest.tables.flatMap(({ name, columns: own }) => own.map((column) => `${name}.${column.name}`))
    // Times of a secret and the hash by which a picture is named open nothing.
    const harmless = [
      'api_keys.secret_made_at',
      'api_keys.previous_secret_until',
      'webhooks.previous_secret_until',
      'photos.sha256',
      'forgotten_people.address_sha256',
    ]
    expect(columns.filter((column) => /secret|token|sha256|hash|password/.test(column)).toSorted()).toEqual(
      harmless.toSorted(),
    )
    const shapes = await tablesInOrder(server.database.db)
    for (const [table, withheld] of Object.entries(WITHHELD)) {
      const known = shapes.find(({ name }) => name === table)?.columns.map(({ name }) => name)
      expect(known).toEqual(expect.arrayContaining([...withheld]))
    }
  })

  it('is for administrators, and leaves nothing lying about', async () => {
    for (const role of ['manager', 'staff', 'owner'] as const) {
      const headers = await server.actorOf(role)
      expectProblem(await server.app.inject({ url: '/v1/organisation/archive', headers }), 403)
    }
    const left = () => readdirSync(folder).filter((name) => name.startsWith('anode-ledger-archive-'))
    await expect.poll(left).toEqual([])
  })
})

function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex')
}
