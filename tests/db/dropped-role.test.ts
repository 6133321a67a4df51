import { connect, createServer, type Server } from 'node:net'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { type Database, openDatabase } from '../../src/db/client.js'
import { DATABASE_ROLES } from '../../src/db/roles.js'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'

/** What the address asks for in the first message, and as many bytes that ask for nothing of the kind. */
const ASKED = /-c role=(anode_ledger_\w+)/
const HARMLESS = (text: string) => '-c application_name='.padEnd(text.length, 'x')

describe.skipIf(inject('testDatabase').kind === 'embedded')('behind a pooler that drops roles', () => {
  let database: TestDatabase
  let pooler: Server
  let behind: Database

  beforeAll(async () => {
    database = await createTestDatabase()
    const url = new URL(database.url!)
    const { port, hostname } = url
    pooler = createServer((client) => {
      const server = connect(Number(port), hostname)
      client.once('data', (first) => {
        server.write(Buffer.from(first.toString('latin1').replace(ASKED, HARMLESS), 'latin1'))
        client.pipe(server).pipe(client)
      })
      for (const socket of [client, server]) socket.on('error', () => {})
    })
    await new Promise<void>((resolve) => pooler.listen(0, '127.0.0.1', resolve))
    const address = pooler.address()
    if (address === null || typeof address === 'string') throw new Error('the pooler has no port')
    url.hostname = '127.0.0.1'
    url.port = String(address.port)
    behind = await openDatabase({ databaseUrl: url.href, dataDir: '' })
  })

  afterAll(async () => {
    await behind?.close()
    pooler?.close()
    await database?.close()
  })

  it('nothing is asked as whoever owns the tables: there is no connection', async () => {
    for (const [handle, role] of [
      [behind.service, DATABASE_ROLES.service],
      [behind.across, DATABASE_ROLES.across],
    ] as const)
      await expect(handle.execute(sql`select count(*) from boats`)).rejects.toMatchObject({
        cause: { message: expect.stringContaining(`connections do not have the role ${role}`) },
      })
  })

  it('whoever asks for no role gets through', async () => {
    await expect(behind.db.execute(sql`select 1 as one`)).resolves.toMatchObject({ rows: [{ one: 1 }] })
  })
})
