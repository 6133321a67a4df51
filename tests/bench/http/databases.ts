import pg from 'pg'

/** A server where the connecting role may make databases. */
export const SERVER_URL = process.env.BENCH_DATABASE_URL ?? 'postgres://postgres@127.0.0.1:5432/postgres'

/** Whoever makes databases on a server, empty or copies of others, and gives their addresses. */
export interface MakesDatabases {
  make(name: string, source?: string): Promise<string>
  drop(url: string): Promise<void>
}

/** Databases of one run, dropped at its end. */
export class BenchDatabases implements MakesDatabases {
  readonly #made: string[] = []
  readonly #prefix = `anode_ledger_bench_${process.pid}`

  /** An empty one, or a copy of another, on which nobody may be working. */
  async make(name: string, source?: string): Promise<string> {
    const full = `${this.#prefix}_${name}`
    await execute(`create database ${full}${source === undefined ? '' : ` template ${nameOf(source)}`}`)
    this.#made.push(full)
    const address = new URL(SERVER_URL)
    address.pathname = `/${full}`
    return address.href
  }

  async drop(url: string): Promise<void> {
    this.#made.splice(this.#made.indexOf(nameOf(url)), 1)
    await execute(`drop database ${nameOf(url)} with (force)`)
  }

  async dropAll(): Promise<void> {
    for (const name of this.#made.splice(0)) await execute(`drop database ${name} with (force)`)
  }
}

/** Rows of one statement, sent by whoever may see all. */
export async function ask<Row extends pg.QueryResultRow>(
  url: string,
  text: string,
  values: unknown[] = [],
): Promise<Row[]> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  try {
    return (await client.query<Row>(text, values)).rows
  } finally {
    await client.end()
  }
}

const nameOf = (url: string) => new URL(url).pathname.slice(1)
const execute = (text: string) => ask(SERVER_URL, text)
