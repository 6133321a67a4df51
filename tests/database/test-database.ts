import { randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { PGlite } from '@electric-sql/pglite'
import { btree_gist } from '@electric-sql/pglite/contrib/btree_gist'
import { pg_trgm } from '@electric-sql/pglite/contrib/pg_trgm'
import pg from 'pg'
import { inject } from 'vitest'
import { type Database, type Db, embeddedHandles, openDatabase } from '../../src/db/client.js'
import { organisations } from '../../src/db/schema/index.js'
import type { Actor } from '../../src/services/actor.js'

/** A database of its own for one test file, migrated and empty; `close` removes it. Its `db` are the test's own eyes, which see everything. */
export interface TestDatabase extends Database {
  /** Where another process can reach it; the embedded one cannot be shared. */
  readonly url: string | undefined
}

/** One that is made and dropped here, and opened elsewhere. */
export interface ServerDatabase {
  readonly name: string
  readonly url: string
  drop(): Promise<void>
}

export async function createTestDatabase(): Promise<TestDatabase> {
  const chosen = inject('testDatabase')
  return chosen.kind === 'server' ? copyTemplate(chosen) : loadDump(chosen.dump)
}

/** A database on the run's server for a process to use, a copy of the template or of another database; undefined on the embedded one. */
export async function createServerDatabase(source?: string): Promise<ServerDatabase | undefined> {
  const chosen = inject('testDatabase')
  if (chosen.kind !== 'server') return undefined
  return copyDatabase(chosen, source)
}

/** A new organisation and somebody who may act in it. */
export async function createOrganisation(
  db: Db,
  role: Actor['role'] = 'administrator',
  name = 'Test yard',
): Promise<Actor> {
  const [made] = await db.insert(organisations).values({ name }).returning({ id: organisations.id })
  if (!made) throw new Error('the organisation was not inserted')
  return { organisationId: made.id, actor: `test:${role}`, role }
}

interface Server {
  readonly url: string
  readonly template: string
}

/** Its name begins with the template's: at the end of the run whatever was left of it is found by that. */
async function copyDatabase({ url: serverUrl, template }: Server, source = template): Promise<ServerDatabase> {
  const name = `${template}_${randomUUID().slice(-12)}`
  await execute(serverUrl, `create database ${name} template ${source}`)
  const address = new URL(serverUrl)
  address.pathname = `/${name}`
  return { name, url: address.href, drop: () => execute(serverUrl, `drop database ${name} with (force)`) }
}

async function copyTemplate(server: Server): Promise<TestDatabase> {
  const { url, drop } = await copyDatabase(server)
  const database = await openDatabase({ databaseUrl: url, dataDir: '' })
  return {
    ...database,
    url,
    close: async () => {
      await database.close()
      await drop()
    },
  }
}

async function loadDump(dump: string): Promise<TestDatabase> {
  const lite = await PGlite.create({ loadDataDir: new Blob([readFileSync(dump)]), extensions: { btree_gist, pg_trgm } })
  return {
    kind: 'embedded',
    url: undefined,
    ...embeddedHandles(lite),
    withStartLock: (work) => work(),
    close: () => lite.close(),
  }
}

/** Two files may copy the one template at the same moment, which PostgreSQL refuses for an instant: try again. */
async function execute(url: string, text: string): Promise<void> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  try {
    for (let attempt = 1; ; attempt++) {
      try {
        await client.query(text)
        return
      } catch (error) {
        const busy = (error as { code?: string }).code === '55006'
        if (!busy || attempt === 20) throw error
        await new Promise((resolve) => setTimeout(resolve, 100))
      }
    }
  } finally {
    await client.end()
  }
}
