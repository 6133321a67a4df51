import { randomUUID } from 'node:crypto'
import { sql } from 'drizzle-orm'
import pg from 'pg'
import { describe, expect, inject, it } from 'vitest'
import { type Database, openDatabase } from '../../src/db/client.js'
import { inOrganisation } from '../../src/db/in-organisation.js'
import { migrateDatabase } from '../../src/db/migrate.js'
import { boats, organisations } from '../../src/db/schema/index.js'
import { databaseAt } from '../database/global-setup.js'

const chosen = inject('testDatabase')

/** A user of the server with these rights and a database of their own, for as long as the work takes. */
async function withUser(rights: string, work: (url: string, grant: string) => Promise<void>): Promise<void> {
  if (chosen.kind !== 'server') throw new Error('the embedded database has one user')
  const name = `plain_${randomUUID().slice(0, 8)}`
  const administrator = new pg.Client({ connectionString: chosen.url })
  await administrator.connect()
  try {
    await administrator.query(`create role ${name} login ${rights} password '${name}'`)
    await administrator.query(`create database ${name} owner ${name}`)
    const url = new URL(databaseAt(chosen.url, name))
    Object.assign(url, { username: name, password: name })
    await work(url.href, name)
  } finally {
    await administrator.query(`drop database if exists ${name} with (force)`)
    await administrator.query(`drop role if exists ${name}`)
    await administrator.end()
  }
}

async function asAdministrator(statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: chosen.kind === 'server' ? chosen.url : '' })
  await client.connect()
  await client.query(statement).finally(() => client.end())
}

async function opened(url: string, work: (database: Database) => Promise<void>): Promise<void> {
  const database = await openDatabase({ databaseUrl: url, dataDir: '' })
  await work(database).finally(() => database.close())
}

async function expectConfined(database: Database): Promise<void> {
  const organisationId = randomUUID()
  const acting = { organisationId, actor: 'test' }
  await inOrganisation(database.service, acting, async (tx) => {
    await tx.insert(organisations).values({ id: organisationId, name: 'Yard' })
    await tx.insert(boats).values({ organisationId, name: 'Wren' })
  })
  const count = sql`select count(*)::int as boats from boats`
  const seen = async (rows: Promise<unknown>) => (await rows) as { rows: unknown[] }
  expect((await seen(database.service.execute(count))).rows).toEqual([{ boats: 0 }])
  expect((await seen(database.db.execute(count))).rows).toEqual([{ boats: 1 }])
  await inOrganisation(database.service, acting, (tx) => tx.delete(boats))
  expect((await seen(database.db.execute(count))).rows).toEqual([{ boats: 0 }])
}

describe.skipIf(chosen.kind !== 'server')('a user of the server who is no superuser', () => {
  it('who may make roles needs no help: rows are held apart, migrations see all', () =>
    withUser('createrole', (url) =>
      opened(url, async (database) => {
        await migrateDatabase(database)
        await expectConfined(database)
      }),
    ))

  it('who may not is told what an administrator is to do, and goes on once that is done', () =>
    withUser('', (url, name) =>
      opened(url, async (database) => {
        await expect(migrateDatabase(database)).rejects.toMatchObject({
          cause: { hint: expect.stringContaining(`GRANT anode_ledger_service TO ${name}`) },
        })
        await asAdministrator(`grant anode_ledger_service, anode_ledger_across to ${name}`)
        await migrateDatabase(database)
        await expectConfined(database)
      }),
    ))
})
