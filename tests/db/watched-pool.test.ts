import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Database, openDatabase } from '../../src/db/client.js'
import { runAskedBy } from '../../src/telemetry/asked-by.js'
import { processFigures } from '../../src/telemetry/process-figures.js'
import { type SlowStatement, StatementWatch } from '../../src/telemetry/statement-watch.js'
import { createServerDatabase, type ServerDatabase } from '../database/test-database.js'

const told: SlowStatement[] = []
let server: ServerDatabase | undefined
let database: Database | undefined

beforeAll(async () => {
  server = await createServerDatabase()
  const watch = new StatementWatch({ slowMs: 0, onSlow: (statement) => told.push(statement) })
  if (server) database = await openDatabase({ databaseUrl: server.url, dataDir: '' }, watch)
})
afterAll(async () => {
  await database?.close()
  await server?.drop()
})

const ids = (text: string) => told.filter((each) => each.text.includes(text)).map(({ requestId }) => requestId)
const connections = async () => {
  const metric = processFigures().getSingleMetric('anode_ledger_database_connections_max')
  return (await metric?.get())?.values.map(({ labels }) => labels.pool)
}

describe('a pool that is watched', () => {
  it('knows who asked for each statement, however many wait for a connection', async (context) => {
    if (database === undefined) return context.skip()
    const { across } = database
    const askers = Array.from({ length: 24 }, (_, index) => `r-${index}`)
    await Promise.all(
      // A statement begins when it is awaited.
      askers.map((requestId) =>
        runAskedBy({ requestId }, async () => await across.execute(sql`select ${requestId} as asked`)),
      ),
    )
    expect(ids('as asked').toSorted()).toEqual(askers.toSorted())
    expect(JSON.stringify(told.map(({ text }) => text))).not.toContain('r-7')
    expect(await connections()).toContain('across')
  })

  it('knows it in transactions, and tells a statement that fails', async (context) => {
    if (database === undefined) return context.skip()
    const { across } = database
    const failing = runAskedBy({ requestId: 'r-fails' }, () =>
      across.transaction((tx) => tx.execute(sql`select 1 / 0 as nought`)),
    )
    await expect(failing).rejects.toThrow()
    expect(ids('as nought')).toEqual(['r-fails'])
    expect(ids('rollback')).toEqual(['r-fails'])
  })
})
