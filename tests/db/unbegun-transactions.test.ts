import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { type Database, openDatabase } from '../../src/db/client.js'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'

const CONNECTIONS = 2

describe.skipIf(inject('testDatabase').kind === 'embedded')('transactions that cannot begin', () => {
  let copy: TestDatabase
  let database: Database
  beforeAll(async () => {
    copy = await createTestDatabase()
    const connections = { service: CONNECTIONS, across: CONNECTIONS, own: CONNECTIONS }
    database = await openDatabase({ databaseUrl: copy.url, dataDir: '', connections })
  })
  afterAll(async () => {
    await database.close()
    await copy.close()
  })

  it.each(['service', 'across', 'db'] as const)('give the connections of %s back', async (handle) => {
    const begun = (isolationLevel: 'serializable') =>
      database[handle].transaction((tx) => tx.execute(sql`select 1 as one`), { isolationLevel })
    for (let n = 0; n <= CONNECTIONS; n++) await expect(begun('no such level' as never)).rejects.toThrow()
    expect(await begun('serializable')).toMatchObject({ rows: [{ one: 1 }] })
  })
})
