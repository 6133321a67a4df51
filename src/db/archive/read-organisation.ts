import { sql } from 'drizzle-orm'
import { linesOfQuery, sayValuesExactly } from '../backup/read-tables.js'
import { quoted, rowsOf, type TableShape, tablesInOrder } from '../backup/table-shapes.js'
import type { Db } from '../client.js'
import { type Acting, inOrganisation } from '../in-organisation.js'

/**
 * What opens something, in whoever's hands it is: it never leaves the service. Hashes are among it, for they can be tried against.
 */
export const WITHHELD: Readonly<Record<string, readonly string[]>> = {
  api_keys: ['secret_sha256', 'previous_secret_sha256'],
  calendar_feeds: ['token_sha256'],
  webhooks: ['secret', 'previous_secret'],
}

/** The trail has each row as it was, with all of its columns. */
const TRAIL = 'audit_entries'
const ROWS_OF_TRAIL: readonly string[] = ['before', 'after']

/** Answers that are kept so that a request repeated is done once: the rows that they speak of are in the other tables. */
const LEFT_OUT: ReadonlySet<string> = new Set(['idempotency_keys'])

/** An organisation's own tables as they were at one moment. */
export interface OrganisationRows {
  readonly takenAt: string
  readonly tables: readonly TableShape[]
  /** One line a row: a JSON object by the names of the columns, in no order. */
  linesOf(table: TableShape): AsyncIterable<string>
}

/**
 * Reads all rows of an organisation at one moment, while others go on writing. The embedded database has one connection, so there they wait
 * until `work` is done.
 */
export function readOrganisation<T>(db: Db, acting: Acting, work: (rows: OrganisationRows) => Promise<T>): Promise<T> {
  const read = async (tx: Db) => {
    await sayValuesExactly(tx)
    const [moment] = await rowsOf<{ takenAt: string }>(
      tx,
      sql`select to_char(now(), 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') as "takenAt"`,
    )
    const tables = (await tablesInOrder(tx)).filter(isOfOrganisations).map(withoutSecrets)
    return work({
      takenAt: moment!.takenAt,
      tables,
      linesOf: (table) => linesOf(tx, table, acting.organisationId),
    })
  }
  return inOrganisation(db, acting, read, { isolationLevel: 'repeatable read', accessMode: 'read only' })
}

function isOfOrganisations({ name, columns }: TableShape): boolean {
  return name === 'organisations' || (keyOf(columns) !== undefined && !LEFT_OUT.has(name))
}

const keyOf = (columns: TableShape['columns']) => columns.find(({ name }) => name === 'organisation_id')

function withoutSecrets({ name, columns }: TableShape): TableShape {
  const withheld = WITHHELD[name] ?? []
  return { name, columns: columns.filter((column) => !withheld.includes(column.name)) }
}

function linesOf(tx: Db, { name, columns }: TableShape, organisationId: string): AsyncIterable<string> {
  const key = sql.identifier(name === 'organisations' ? 'id' : 'organisation_id')
  const names = sql.raw(columns.map((column) => selected(name, column.name)).join(', '))
  const from = sql.raw(`public.${quoted(name)}`)
  // A cursor takes no parameters on every driver: the id is a uuid, checked by the database, and written as a literal.
  const whose = sql.raw(`'${organisationId.replaceAll("'", "''")}'::uuid`)
  return linesOfQuery(
    tx,
    sql`select row_to_json(kept)::text as line from (select ${names} from ${from} where ${key} = ${whose}) as kept`,
  )
}

function selected(table: string, column: string): string {
  if (table !== TRAIL || !ROWS_OF_TRAIL.includes(column)) return quoted(column)
  const withheld = Object.values(WITHHELD).flat()
  return `${quoted(column)} - '{${withheld.join(',')}}'::text[] as ${quoted(column)}`
}
