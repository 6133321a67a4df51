import pg from 'pg'
import { DATABASE_ROLES, withRole } from '../../../src/db/roles.js'
import type { SentStatement, SqlRole } from './recorded-sql.js'

const UUID = /[\da-f]{8}-[\da-f]{4}-[\da-f]{4}-[\da-f]{4}-[\da-f]{12}/g

/** A statement to send again; in `made` stand the places of values that hold ids which the database made earlier on. */
interface PlayedStatement extends SentStatement {
  readonly made: readonly number[]
}

/** What one request sent, to be sent again by the driver alone. */
export type Played = readonly PlayedStatement[]

/** Finds out which values must change in another copy of the database, where rows that are inserted get other ids. */
export function playable(statements: readonly SentStatement[]): Played {
  const made = new Set<string>()
  return statements.map((statement) => {
    const places = statement.values.flatMap((value, index) => (idsIn(value).some((id) => made.has(id)) ? [index] : []))
    if (/^\s*insert/i.test(statement.text)) for (const id of statement.rows.flatMap(idsIn)) made.add(id)
    return { ...statement, made: places }
  })
}

function idsIn(value: unknown): string[] {
  return JSON.stringify(value ?? null).match(UUID) ?? []
}

/** Sends recorded statements through pools of the same roles and sizes as the service's, in the same transactions. */
export class SqlPlayer {
  readonly #pools: Readonly<Record<SqlRole, pg.Pool>>

  constructor(databaseUrl: string) {
    this.#pools = {
      service: new pg.Pool({ connectionString: withRole(databaseUrl, DATABASE_ROLES.service), max: 10 }),
      across: new pg.Pool({ connectionString: withRole(databaseUrl, DATABASE_ROLES.across), max: 4 }),
      own: new pg.Pool({ connectionString: databaseUrl, max: 4 }),
    }
  }

  async play(statements: Played): Promise<void> {
    const ids = new Map<string, string>()
    let held: pg.PoolClient | undefined
    for (const statement of statements) {
      if (/^begin/i.test(statement.text)) held = await this.#pools[statement.role].connect()
      const result = await (held ?? this.#pools[statement.role]).query(sentAgain(statement, ids))
      recordedIds(statement, result.rows, ids)
      if (!/^(commit|rollback)$/i.test(statement.text)) continue
      held?.release()
      held = undefined
    }
  }

  async close(): Promise<void> {
    await Promise.all(Object.values(this.#pools).map((pool) => pool.end()))
  }
}

/** A recorded statement with the ids that this database has made meanwhile. */
export function sentAgain(
  { text, values, form, made }: PlayedStatement,
  ids: ReadonlyMap<string, string>,
): pg.QueryConfig {
  const sent = made.length === 0 ? values : values.map((value, at) => (made.includes(at) ? moved(value, ids) : value))
  return { ...form, text, values: [...sent] } as pg.QueryConfig
}

/** Notes which ids stand for the recorded ones, where rows were inserted. */
export function recordedIds({ text, rows }: SentStatement, now: readonly unknown[], ids: Map<string, string>): void {
  if (!/^\s*insert/i.test(text)) return
  const after = idsIn(now)
  for (const [index, id] of idsIn(rows).entries()) {
    const other = after[index]
    if (other !== undefined && other !== id) ids.set(id, other)
  }
}

function moved(value: unknown, ids: ReadonlyMap<string, string>): unknown {
  if (typeof value === 'string') return value.replace(UUID, (id) => ids.get(id) ?? id)
  if (Array.isArray(value)) return value.map((each) => moved(each, ids))
  return value
}
