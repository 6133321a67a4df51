import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { PGlite } from '@electric-sql/pglite'
import { btree_gist } from '@electric-sql/pglite/contrib/btree_gist'
import { pg_trgm } from '@electric-sql/pglite/contrib/pg_trgm'
import { drizzle } from 'drizzle-orm/pglite'
import pg from 'pg'
import type { TestProject } from 'vitest/node'
import { type Database, type Db, openDatabase } from '../../src/db/client.js'
import { migrateDatabase } from '../../src/db/migrate.js'
import * as schema from '../../src/db/schema/index.js'
import { chooseServer } from './choose-server.js'

declare module 'vitest' {
  export interface ProvidedContext {
    /** The server and the migrated database that each test database is copied from; or a dump for the embedded one. */
    testDatabase: { kind: 'server'; url: string; template: string } | { kind: 'embedded'; dump: string }
  }
}

/** Once for the whole run: picks the database, migrates a template, says which it is. */
export default async function setUp(project: TestProject) {
  const server = await chooseServer()
  console.log(`tests run on ${server?.label ?? 'the embedded database'}`)
  if (!server) return prepareEmbedded(project)
  const template = `anode_ledger_template_${randomUUID().slice(0, 8)}`
  await execute(server.url, `create database ${template}`)
  const database = await openDatabase({ databaseUrl: databaseAt(server.url, template), dataDir: '' })
  await migrateDatabase(database)
  await database.close()
  project.provide('testDatabase', { kind: 'server', url: server.url, template })
  return async () => {
    for (const name of await copiesOf(server.url, template)) {
      await execute(server.url, `drop database ${name} with (force)`)
    }
    await server.stop()
  }
}

/** The template itself, and what was copied from it for the whole run. */
async function copiesOf(url: string, template: string): Promise<string[]> {
  const rows = await execute(url, `select datname from pg_database where starts_with(datname, '${template}')`)
  return rows.map(({ datname }) => String(datname))
}

async function prepareEmbedded(project: TestProject) {
  const lite = await PGlite.create({ extensions: { btree_gist, pg_trgm } })
  const db = drizzle(lite, { schema }) as unknown as Db
  await migrateDatabase({ kind: 'embedded', db, withStartLock: (work) => work() } as Database)
  const folder = mkdtempSync(join(tmpdir(), 'anode-ledger-dump-'))
  const dump = join(folder, 'migrated.tar')
  writeFileSync(dump, Buffer.from(await (await lite.dumpDataDir('none')).arrayBuffer()))
  await lite.close()
  project.provide('testDatabase', { kind: 'embedded', dump })
  return () => rmSync(folder, { recursive: true, force: true })
}

export function databaseAt(url: string, name: string): string {
  const address = new URL(url)
  address.pathname = `/${name}`
  return address.href
}

async function execute(url: string, text: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  const { rows } = await client.query<Record<string, unknown>>(text)
  await client.end()
  return rows
}
