import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { unzipSync } from 'fflate'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { forgetAgain } from '../../../src/db/backup/forget-again.js'
import { folderPhotoStore } from '../../../src/outside/photo-store.js'
import { readForgotten } from '../../../src/services/backup/read-forgotten.js'
import { restoreBackup } from '../../../src/services/backup/restore-backup.js'
import { writeBackup } from '../../../src/services/backup/write-backup.js'
import { createTestDatabase } from '../../database/test-database.js'
import { askAs } from '../../http/ask.js'
import { startTestServer, type TestServer } from '../../http/server.js'
import { everyRowThatSays } from '../people/every-row.js'

const EMAIL = 'ada.marker@example.org'

let folder: string
let server: TestServer
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'anode-ledger-forgotten-'))
  server = await startTestServer()
})
afterAll(async () => {
  await server.close()
  rmSync(folder, { recursive: true, force: true })
})

it('are removed again from a backup that still had them, under the alias that they have', async () => {
  const headers = await server.actorOf('administrator')
  const ask = askAs(server, headers)
  await ask('POST', '/v1/boats', { name: 'Avocet', ownerName: 'Ada Markername', ownerEmail: 'Ada.Marker@example.org' })
  const photoStore = folderPhotoStore(join(folder, 'photos'))
  const backup = join(folder, 'backup')
  await writeBackup({ database: server.database, photoStore, dataDir: folder, version: '0.0.0-test' }, backup)

  const { body } = await ask('POST', '/v1/people/forget', { email: EMAIL, confirm: EMAIL })
  const archive = await server.app.inject({ url: '/v1/organisation/archive', headers })
  const list = join(folder, 'forgotten_people.ndjson')
  writeFileSync(list, unzipSync(archive.rawPayload)['tables/forgotten_people.ndjson'] ?? '')
  const forgotten = await readForgotten(list)
  expect(forgotten).toEqual([expect.objectContaining({ organisationId: server.organisationId, alias: body.alias })])

  const target = await createTestDatabase()
  try {
    const dataDir = join(folder, 'restored')
    await restoreBackup({ database: target, photoStore: folderPhotoStore(join(dataDir, 'photos')), dataDir }, backup)
    expect(await everyRowThatSays(target.db, EMAIL)).not.toEqual([])
    expect(await forgetAgain(target.service, forgotten)).toBe(1)
    expect(await everyRowThatSays(target.db, EMAIL)).toEqual([])
    expect(await everyRowThatSays(target.db, 'Markername')).toEqual([])
    const owners = (await everyRowThatSays(target.db, body.alias)).map(({ table }) => table)
    expect(owners).toEqual(expect.arrayContaining(['public.owners', 'public.forgotten_people', 'public.audit_entries']))
    // Nobody is left to be removed.
    expect(await forgetAgain(target.service, forgotten)).toBe(0)
  } finally {
    await target.close()
  }
})

it('are told where a list is none, by its line', async () => {
  const list = join(folder, 'wrong.ndjson')
  writeFileSync(list, '\n{"alias":"forgotten-1"}\n')
  await expect(readForgotten(list)).rejects.toThrow(/wrong\.ndjson, line 2: this is no row of forgotten_people/)
})
