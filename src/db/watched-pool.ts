import { AsyncResource } from 'node:async_hooks'
import type pg from 'pg'
import { countPool, forgetPool } from '../telemetry/process-figures.js'
import type { StatementWatch } from '../telemetry/statement-watch.js'

type Called = (...given: unknown[]) => unknown

/** Has each statement on a pool's connections timed, and the connections counted, until the pool ends. */
export function watchPool(pool: pg.Pool, name: string, watch: StatementWatch): void {
  countPool(name, pool)
  const end = pool.end.bind(pool) as () => Promise<void>
  pool.end = () => {
    forgetPool(pool)
    return end()
  }
  // The pool hands a connection to who waits on behalf of whoever gave it back: the statement belongs to who waited.
  const connect = pool.connect.bind(pool) as Called
  pool.connect = ((...told: (() => void)[]) => connect(...told.map((each) => AsyncResource.bind(each)))) as never
  pool.on('connect', (client) => watchClient(client, watch))
}

function watchClient(client: pg.PoolClient, watch: StatementWatch): void {
  const query = client.query.bind(client) as Called
  client.query = ((...given: unknown[]) => {
    const text = textOf(given[0])
    // What brings a protocol of its own, a cursor or a copy, is no single statement.
    if (text === undefined) return query(...given)
    const told = given.at(-1)
    if (typeof told !== 'function') return watch.during(text, () => query(...given) as Promise<unknown>)
    const end = watch.begin(text)
    return query(...given.slice(0, -1), (error: unknown, result: unknown) => {
      end(error ?? undefined)
      told(error, result)
    })
  }) as never
}

function textOf(asked: unknown): string | undefined {
  if (typeof asked === 'string') return asked
  if (typeof asked !== 'object' || asked === null || 'submit' in asked) return undefined
  const { text } = asked as { text?: unknown }
  return typeof text === 'string' ? text : undefined
}
