import pg from 'pg'
import { type RunningService, start } from '../../src/main.js'
import { Uniform } from '../engine/simulated-fleet.js'
import { keyOfLarge } from './large-database.js'

const ASKED_EACH = 100
const BOATS_ASKED = 100
const START = 4_711
const MIB = 1024 * 1024

/** What is asked of one organisation; a haul-out is written for a boat that has none on the day. */
const QUESTIONS: Readonly<Record<string, (boat: string) => readonly [method: string, path: string, body?: object]>> = {
  'page of boats': () => ['GET', '/v1/boats?limit=50'],
  'page of forecasts': () => ['GET', '/v1/forecasts?limit=50'],
  "a boat's curves": (boat) => ['GET', `/v1/boats/${boat}/depletion`],
  "a boat's anodes": (boat) => ['GET', `/v1/boats/${boat}/anodes`],
  findings: () => ['GET', '/v1/findings?limit=50'],
  'haul-out written': (boat) => [
    'POST',
    `/v1/boats/${boat}/haul-outs`,
    { hauledOn: new Date().toISOString().slice(0, 10) },
  ],
}

interface TableSize {
  readonly table: string
  readonly rows: number
  readonly heap: number
  readonly toast: number
  readonly indexes: number
}

/** Prints what tables and indexes take, and how long requests of random organisations wait. */
export async function printFigures(databaseUrl: string): Promise<void> {
  const client = new pg.Client({ connectionString: databaseUrl })
  await client.connect()
  try {
    await printSizes(client)
    const organisations = Number((await client.query('select count(*) from organisations')).rows[0].count)
    await printTimes(client, databaseUrl, organisations)
  } finally {
    await client.end()
  }
}

async function printSizes(client: pg.Client): Promise<void> {
  const { rows } = await client.query<TableSize>(`
    select c.relname as table, c.reltuples::float8 as rows, pg_relation_size(c.oid)::float8 as heap,
      coalesce(pg_total_relation_size(nullif(c.reltoastrelid, 0)), 0)::float8 as toast, pg_indexes_size(c.oid)::float8 as indexes
    from pg_class c where c.relkind = 'r' and c.relnamespace = 'public'::regnamespace and c.reltuples >= 1000
    order by pg_total_relation_size(c.oid) desc`)
  console.log('table, rows, bytes a row: heap, out of line, indexes; MiB')
  for (const { table, rows: count, heap, toast, indexes } of rows) {
    const each = [heap, toast, indexes].map((bytes) => (bytes / count).toFixed(0).padStart(6)).join('')
    console.log(
      `${table.padEnd(22)}${String(count).padStart(10)}${each}${((heap + toast + indexes) / MIB).toFixed(0).padStart(8)}`,
    )
  }
  const found = await client.query<{ name: string; mib: number; each: number }>(`
    select i.relname as name, pg_relation_size(i.oid) / ${MIB}.0 as mib, pg_relation_size(i.oid) / t.reltuples as each
    from pg_index x join pg_class i on i.oid = x.indexrelid join pg_class t on t.oid = x.indrelid
    where i.relnamespace = 'public'::regnamespace and t.reltuples >= 1000 order by 2 desc limit 16`)
  console.log('largest indexes: MiB, bytes a row')
  for (const { name, mib, each } of found.rows)
    console.log(`${name.padEnd(44)}${Number(mib).toFixed(0).padStart(6)}${Number(each).toFixed(0).padStart(6)}`)
}

async function printTimes(client: pg.Client, databaseUrl: string, organisations: number): Promise<void> {
  const service = await start({
    environment: {
      PROCESS: 'server',
      DATABASE_URL: databaseUrl,
      SESSION_SECRET: 'of the bench alone, for nobody signs in there',
      PUBLIC_URL: 'http://127.0.0.1',
      PORT: '0',
      LOG_LEVEL: 'silent',
      RATE_LIMIT: '0',
    },
    print: () => {},
  })
  try {
    console.log(
      `ms of ${ASKED_EACH} requests one after the other, each of a random one of ${organisations} organisations: median, 95 %; whole scans of large tables`,
    )
    const random = new Uniform(START)
    for (const [name, question] of Object.entries(QUESTIONS)) {
      const scansBefore = await wholeScans(client)
      const times: number[] = []
      for (let n = 0; n < ASKED_EACH; n++) {
        const organisation = 1 + Math.floor(random.next() * organisations)
        const boat = `Boat%20${Math.floor(random.next() * BOATS_ASKED)}`
        times.push(await timed(service, keyOfLarge(organisation), question(boat)))
      }
      times.sort((one, other) => one - other)
      const at = (share: number) => times[Math.floor(share * times.length)]!.toFixed(1).padStart(8)
      console.log(
        `${name.padEnd(22)}${at(0.5)}${at(0.95)}${String((await wholeScans(client)) - scansBefore).padStart(6)}`,
      )
    }
  } finally {
    await service.stop()
  }
}

async function timed(
  { app }: RunningService,
  key: string,
  [method, url, payload]: readonly [string, string, object?],
): Promise<number> {
  const headers = { authorization: `Bearer ${key}` }
  const began = performance.now()
  const answer = await app.inject({ method: method as 'GET', url, headers, ...(payload && { payload }) })
  const took = performance.now() - began
  // A boat that was drawn twice has its haul-out already.
  if (answer.statusCode >= 400 && answer.statusCode !== 409) throw new Error(`${method} ${url}: ${answer.body}`)
  return took
}

/** Scans of a whole table with more rows than an organisation has: each reads what others own. */
async function wholeScans(client: pg.Client): Promise<number> {
  // Counts come to the view with a delay of a second at most.
  await new Promise((resolve) => setTimeout(resolve, 1_500))
  const { rows } = await client.query(`select coalesce(sum(seq_scan), 0) as scans from pg_stat_user_tables
    where schemaname = 'public' and relname in ('audit_entries', 'forecasts', 'weighings', 'anodes', 'haul_outs', 'positions', 'stays', 'boats')`)
  return Number(rows[0].scans)
}
