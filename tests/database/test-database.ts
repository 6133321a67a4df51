import { randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { PGlite } from '@electric-sql/pglite'
import { btree_gist } from '@electric-sql/pglite/contrib/btree_gist'
import { drizzle } from 'drizzle-orm/pglite'
import pg from 'pg'
import { inject } from 'vitest'
import { type Database, type Db, openDatabase } from '../../src/db/client.js'
import * as schema from '../../src/db/schema/index.js'
import { organisations } from '../../src/db/schema/index.js'
import type { Actor } from '../../src/services/actor.js'

/** A database of its own for one test file, migrated and empty; `close` removes it. */
export interface TestDatabase extends Database {
  /** Where another process can reach it; the embedded one cannot be shared. */
  readonly url: string | undefined
}

export async function createTestDatabase(): Promise<TestDatabase> {
  const chosen = inject('testDatabase')
  return chosen.kind === 'server' ? copyTemplate(chosen.url, chosen.template) : loadDump(chosen.dump)
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

async function copyTemplate(serverUrl: string, template: string): Promise<TestDatabase> {
  const name = `test_${randomUUID().replaceAll('-', '')}`
  await execute(serverUrl, `create database ${name} template ${template}`)
  const address = new URL(serverUrl)
  address.pathname = `/${name}`
  const database = await openDatabase({ databaseUrl: address.href, dataDir: '' })
  return {
    ...database,
    url: address.href,
    close: async () => {
      await database.close()
      await execute(serverUrl, `drop database ${name} with (force)`)
    },
  }
}

async function loadDump(dump: string): Promise<TestDatabase> {
  const lite = await PGlite.create({ loadDataDir: new Blob([readFileSync(dump)]), extensions: { btree_gist } })
  return {
    kind: 'embedded',
    url: undefined,
    db: drizzle(lite, { schema }) as unknown as Db,
    executor: {
      executeSql: async (text, values) =>
        values?.length ? lite.query(text, values) : ((await lite.exec(text)).at(-1) ?? { rows: [] }),
    },
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
