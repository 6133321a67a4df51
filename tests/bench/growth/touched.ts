import pg from 'pg'
import { DATABASE_ROLES, withRole } from '../../../src/db/roles.js'
import type { MakesDatabases } from '../http/databases.js'
import { recording } from '../http/record-requests.js'
import type { SqlRole } from '../http/recorded-sql.js'
import { type Played, playable, recordedIds, sentAgain } from '../http/replayed-sql.js'
import { explain, type Touched } from './explain.js'
import { exchanges } from './requests.js'

/** A statement of a request, told apart by its text however long its lists, and by how often it came before. */
export type TouchedBy = ReadonlyMap<string, Touched>

const EXPLAINED = /^\s*(select|insert|update|delete|with)\b/i
const NAMES_WHO_ACTS = /^\s*select set_config/i

/**
 * What each statement of the main routes touches in a database. They are heard on a copy and explained on the database itself, where nothing
 * is kept.
 */
export async function touchedIn(databases: MakesDatabases, databaseUrl: string): Promise<TouchedBy> {
  const copy = await databases.make('heard', databaseUrl)
  const heard = await recording(copy, (running) => exchanges(running, copy))
  await databases.drop(copy)
  const touched = new Map<string, Touched>()
  for (const role of ['service', 'across'] as const) {
    const client = new pg.Client({ connectionString: withRole(databaseUrl, DATABASE_ROLES[role]) })
    await client.connect()
    try {
      for (const { name, sent } of heard) await explainAll(client, role, { name, played: playable(sent) }, touched)
    } finally {
      await client.end()
    }
  }
  return touched
}

/** The statements of one exchange in their order, in a transaction that is rolled back; adds to `touched`. */
export async function explainAll(
  client: pg.Client,
  role: SqlRole,
  { name, played }: { name: string; played: Played },
  touched: Map<string, Touched>,
): Promise<void> {
  const ids = new Map<string, string>()
  const times = new Map<string, number>()
  await client.query('begin')
  for (const statement of played) {
    if (statement.role !== role || !EXPLAINED.test(statement.text)) continue
    const { text, values = [] } = sentAgain(statement, ids)
    if (!NAMES_WHO_ACTS.test(text)) {
      const key = `${name}: ${shapeOf(text)}`
      const time = times.get(key) ?? 0
      times.set(key, time + 1)
      await client.query('savepoint before')
      touched.set(`${key} #${time + 1}`, await explain(client, text, values))
      await client.query('rollback to savepoint before')
    }
    recordedIds(statement, (await client.query(sentAgain(statement, ids))).rows, ids)
  }
  await client.query('rollback')
}

/** A statement without its parameters' numbers and the lengths of its lists. */
function shapeOf(text: string): string {
  return text
    .replace(/\s+/g, ' ')
    .replace(/\$\d+/g, '$')
    .replace(/\$(, \$)+/g, '$, …')
}
