import type { TestDatabase } from '../../database/test-database.js'

/** The ids of all rows of an organisation. */
export async function idsOf(database: TestDatabase, organisationId: string): Promise<Set<string>> {
  const ids = new Set([organisationId])
  for (const table of await tablesWith(database, 'id')) {
    const rows = await query<{ id: string }>(
      database,
      `select id::text as id from ${table} where organisation_id = '${organisationId}'`,
    )
    for (const { id } of rows) if (isUuid(id)) ids.add(id)
  }
  return ids
}

/** What every row of an organisation comes to, by table: equal before and after where nothing was touched. */
export async function hashesOf(
  database: TestDatabase,
  organisationId: string,
  peopleAt: string,
): Promise<Record<string, string>> {
  const hashes: Record<string, string> = {}
  const conditions = new Map([['organisations', `id = '${organisationId}'`]])
  for (const table of await tablesWith(database, 'organisation_id')) {
    conditions.set(table, `organisation_id = '${organisationId}'`)
  }
  const people = `(select id from auth_users where email like '%${peopleAt}')`
  conditions.set('auth_users', `id in ${people}`)
  for (const table of await tablesWith(database, 'user_id')) {
    if (!conditions.has(table)) conditions.set(table, `user_id in ${people}`)
  }
  for (const [table, condition] of conditions) {
    const [row] = await query<{ rows: number; hash: string }>(
      database,
      `select count(*) as rows, md5(coalesce(string_agg(t::text, '|' order by t::text), '')) as hash from ${table} t where ${condition}`,
    )
    hashes[table] = `${row!.rows} rows ${row!.hash}`
  }
  return hashes
}

export const isUuid = (text: string) => /^[\da-f]{8}-[\da-f-]{27}$/.test(text)

/** Tables of the service's own schema that have a column of this name. */
async function tablesWith(database: TestDatabase, column: string): Promise<string[]> {
  const rows = await query<{ name: string }>(
    database,
    `select c.table_name as name from information_schema.columns c
     join information_schema.tables t on t.table_schema = c.table_schema and t.table_name = c.table_name
     where c.table_schema = 'public' and t.table_type = 'BASE TABLE' and c.column_name = '${column}'
       and ('${column}' <> 'id' or exists (select from information_schema.columns o
         where o.table_schema = 'public' and o.table_name = c.table_name and o.column_name = 'organisation_id'))
     order by 1`,
  )
  return rows.map(({ name }) => name)
}

async function query<Row>(database: TestDatabase, text: string): Promise<Row[]> {
  return (await database.executor.executeSql(text)).rows as Row[]
}
