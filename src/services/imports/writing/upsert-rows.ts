import { getTableColumns, type SQL, sql } from 'drizzle-orm'
import type { PgColumn } from 'drizzle-orm/pg-core'
import type { Db } from '../../../db/client.js'
import type { Batch } from '../planning/batch.js'

/** Rows that one statement writes: the embedded database answers nobody else meanwhile. */
export const ROWS_A_STATEMENT = 2000
/** Between the words of a text array on its way: arrays of arrays cannot be unnested. */
const WORD_SEPARATOR = ';'

export interface Written {
  readonly created: number
  readonly updated: number
}

/**
 * Writes up to `ROWS_A_STATEMENT` rows in one statement: inserts those whose key is new, updates those that differ, and
 * leaves the rest untouched, so that neither their version nor the audit trail moves.
 */
export async function upsertRows(tx: Db, organisationId: string, { table, key, rows }: Batch): Promise<Written> {
  const members = Object.keys(rows[0] ?? {})
  if (members.length === 0) return { created: 0, updated: 0 }
  const all: Record<string, PgColumn> = getTableColumns(table)
  const columns = members.map((member) => ({ member, column: columnOf(all, member) }))
  const named = (of: readonly { column: PgColumn }[]) => list(of.map(({ column }) => sql.identifier(column.name)))
  const keyColumns = key.map((member) => ({ column: columnOf(all, member) }))
  // What tells rows apart stays, and so does the id that others may point at.
  const changeable = columns.filter(({ member }) => member !== 'id' && !key.includes(member))
  const arrays = columns.map(({ member, column }) =>
    asArray(
      column,
      rows.map((row) => row[member]),
    ),
  )
  const result = await tx.execute(sql`with written as (
    insert into ${table} (organisation_id, ${named(columns)})
    select ${organisationId}::uuid, ${list(columns.map(({ column }) => fromArray(column)))}
    from unnest(${list(arrays)}) as given (${named(columns)})
    on conflict (organisation_id, ${named(keyColumns)}) ${onConflict(table, changeable)}
    returning (xmax = 0) as created)
    select count(*) filter (where created) as created, count(*) filter (where not created) as updated from written`)
  return countsOf(result)
}

function onConflict(table: Batch['table'], changeable: readonly { column: PgColumn }[]): SQL {
  if (changeable.length === 0) return sql`do nothing`
  const names = changeable.map(({ column }) => sql.identifier(column.name))
  const stored = names.map((name) => sql`${table}.${name}`)
  const given = names.map((name) => sql`excluded.${name}`)
  return sql`do update set ${list(names.map((name) => sql`${name} = excluded.${name}`))}
    where (${list(stored)}) is distinct from (${list(given)})`
}

function columnOf(columns: Readonly<Record<string, PgColumn>>, member: string): PgColumn {
  const column = columns[member]
  if (!column) throw new Error(`the table has no column for ${member}`)
  return column
}

function isTextArray(column: PgColumn): boolean {
  return column.getSQLType() === 'text[]'
}

/** A whole column as one parameter. */
function asArray(column: PgColumn, values: readonly unknown[]): SQL {
  if (!isTextArray(column)) return sql`${sql.param(values)}::${sql.raw(column.getSQLType())}[]`
  const joined = values.map((words) => (Array.isArray(words) ? words.join(WORD_SEPARATOR) : null))
  return sql`${sql.param(joined)}::text[]`
}

function fromArray(column: PgColumn): SQL {
  const given = sql`given.${sql.identifier(column.name)}`
  return isTextArray(column) ? sql`string_to_array(${given}, ${WORD_SEPARATOR})` : given
}

function list(parts: readonly (SQL | ReturnType<typeof sql.identifier>)[]): SQL {
  return sql.join([...parts], sql`, `)
}

/** Both drivers answer with rows; the handle's common type does not say so. */
function countsOf(result: unknown): Written {
  const { rows } = result as { rows: { created: number; updated: number }[] }
  return { created: Number(rows[0]?.created), updated: Number(rows[0]?.updated) }
}
