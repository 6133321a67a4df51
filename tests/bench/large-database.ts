import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pg from 'pg'
import { type RunningService, start } from '../../src/main.js'
import { sha256 } from '../../src/services/access/secrets.js'
import { largeFleet } from '../durability/large-fleet.js'

/** Of a yard that grows: each of its organisations has the same fleet, in rows and ids of its own. */
export interface LargeDatabase {
  /** An empty database of a server, where the connecting role is a superuser: copies pass by triggers and foreign keys. */
  readonly databaseUrl: string
  readonly organisations: number
  /** Each with 9 anodes, 3 of them in place, 15 weighings and 5 haul-outs. */
  readonly boatsEach: number
  readonly print: (line: string) => void
}

export const ANODES_PER_BOAT = 9
/** Copied at once: rows of one statement stay in memory, and progress is seen. */
const COPIES_AT_ONCE = 25
const WAIT_MS = 200
/** An id that follows from a text: of version 4 and variant 1 (RFC 9562, 5.4), for others are no ids to the API. */
const idFrom = (text: string) => `overlay(overlay(md5(${text}) placing '4' from 13) placing '8' from 17)::uuid`
/** The same in each run. */
const ORGANISATION_IDS = idFrom(`'large organisation ' || n`)

/** The administrator's key of the nth organisation, from 1. */
export const keyOfLarge = (n: number) => `the-key-of-large-organisation-${n}`

/**
 * Fills a database with organisations that have a fleet, its history, its fit and its forecasts. The first is made as people make one: by
 * an import and a refit; the others are its rows under other ids, so that every column is filled as it really is.
 *
 * @throws Error when the database is not empty (nobody has the key), or when the import or the refit fails
 */
export async function fillLargeDatabase(size: LargeDatabase): Promise<void> {
  const { databaseUrl, organisations, boatsEach, print } = size
  print(`the first of ${organisations} organisations: ${boatsEach} boats, ${boatsEach * ANODES_PER_BOAT} anodes`)
  await makeFirst(databaseUrl, boatsEach)
  const client = new pg.Client({ connectionString: databaseUrl })
  await client.connect()
  try {
    await client.query('set session_replication_role = replica')
    for (let from = 2; from <= organisations; from += COPIES_AT_ONCE) {
      const to = Math.min(organisations, from + COPIES_AT_ONCE - 1)
      await copyFirst(client, from, to)
      print(`${to} of ${organisations} organisations`)
    }
    await client.query('set session_replication_role = origin')
    await client.query('vacuum analyze')
  } finally {
    await client.end()
  }
}

async function makeFirst(databaseUrl: string, boats: number): Promise<void> {
  const dataDir = mkdtempSync(join(tmpdir(), 'anode-ledger-large-'))
  const environment = {
    DATABASE_URL: databaseUrl,
    DATA_DIR: dataDir,
    PORT: '0',
    LOG_LEVEL: 'silent',
    RATE_LIMIT: '0',
    ADMIN_API_KEY: keyOfLarge(1),
    ORGANISATION_NAME: 'Large organisation 1',
  }
  const service = await start({ environment, print: () => {} })
  try {
    const form = await withHaulOuts(largeFleet(boats, new Date().toISOString().slice(0, 10)))
    const { refit } = await ask(service, 'POST', '/v1/imports', form)
    for (;;) {
      const { state, error } = await ask(service, 'GET', `/v1/jobs/${refit.id}`)
      if (state === 'completed') break
      if (state === 'failed') throw new Error(`the fleet could not be fitted: ${error}`)
      await new Promise((resolve) => setTimeout(resolve, WAIT_MS))
    }
  } finally {
    await service.stop()
    rmSync(dataDir, { recursive: true })
  }
}

/** A haul-out for each day on which anodes of a boat were weighed. */
async function withHaulOuts(form: FormData): Promise<FormData> {
  const [, ...weighings] = (await (form.get('weighings.csv') as File).text()).trim().split('\n')
  const lifts = new Set(weighings.map((line) => line.split(',')).map(([boat, , weighedOn]) => `${boat},${weighedOn}`))
  form.set('haul-outs.csv', new Blob([['boat,on', ...lifts, ''].join('\n')]), 'haul-outs.csv')
  return form
}

// biome-ignore lint/suspicious/noExplicitAny: answers of several shapes, of which a field or two are read
async function ask({ address }: RunningService, method: string, path: string, body?: FormData): Promise<any> {
  const answer = await fetch(`${address}${path}`, {
    method,
    headers: { authorization: `Bearer ${keyOfLarge(1)}` },
    ...(body && { body }),
  })
  if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${await answer.text()}`)
  return answer.json()
}

interface Column {
  readonly name: string
  readonly isId: boolean
}

/** Rows of the first organisation again for each of the others, under ids that follow from the organisation and the first row's id. */
async function copyFirst(client: pg.Client, from: number, to: number): Promise<void> {
  await client.query('begin')
  await client.query(
    `insert into organisations (id, name, wasting_threshold)
     select ${ORGANISATION_IDS}, 'Large organisation ' || n, 0.5 from generate_series($1::int, $2::int) n`,
    [from, to],
  )
  for (const [table, columns] of await tablesOfOrganisations(client)) {
    const names = columns.map(({ name }) => name)
    const values = columns.map(({ name, isId }) => (isId ? idFrom(`o.id::text || t.${name}`) : `t.${name}`))
    await client.query(
      `insert into ${table} (organisation_id, ${names.join(', ')})
       select o.id, ${values.join(', ')} from ${table} t,
         (select ${ORGANISATION_IDS} as id from generate_series($1::int, $2::int) n) o
       where t.organisation_id = (select id from organisations where name = 'Large organisation 1')`,
      [from, to],
    )
  }
  const keys = Array.from({ length: to - from + 1 }, (_, index) => sha256(keyOfLarge(from + index)))
  await client.query(
    `insert into api_keys (organisation_id, name, role, prefix, secret_sha256)
     select ${idFrom(`'large organisation ' || ($1::int + place - 1)`)}, 'ADMIN_API_KEY', 'administrator', 'the-key-', secret
     from unnest($2::text[]) with ordinality keys (secret, place)`,
    [from, keys],
  )
  // The newest entry of the trail that a fit has seen: the copies' entries have numbers of their own.
  await client.query(
    `update model_fits f set data_revision = (select max(id) from audit_entries a where a.organisation_id = f.organisation_id)
     where organisation_id in (select ${ORGANISATION_IDS} from generate_series($1::int, $2::int) n)`,
    [from, to],
  )
  await client.query('commit')
}

/** Their columns but the organisation's and those that the database numbers; keys are secrets that no two organisations share. */
async function tablesOfOrganisations(client: pg.Client): Promise<Map<string, Column[]>> {
  const { rows } = await client.query<{ table: string } & Column>(
    `select c.table_name as table, quote_ident(c.column_name) as name, c.udt_name = 'uuid' as "isId"
     from information_schema.columns c
     where c.table_schema = 'public' and c.is_identity = 'NO' and c.is_generated = 'NEVER'
       and c.column_name <> 'organisation_id' and c.table_name <> 'api_keys'
       and exists (select from information_schema.columns o where o.table_schema = 'public'
         and o.table_name = c.table_name and o.column_name = 'organisation_id')`,
  )
  const tables = new Map<string, Column[]>()
  for (const { table, ...column } of rows) tables.set(table, [...(tables.get(table) ?? []), column])
  return tables
}
