import { AsyncLocalStorage } from 'node:async_hooks'
import pg from 'pg'

/** Which of the service's pools a statement went through. */
export type SqlRole = 'service' | 'across' | 'own'

/** A statement as the driver was given it, with what it gave back. */
export interface SentStatement {
  readonly role: SqlRole
  readonly text: string
  readonly values: readonly unknown[]
  /** How rows and their values are to come, as the query builder asked the driver. */
  readonly form: { readonly rowMode?: 'array'; readonly types?: unknown }
  rows: readonly unknown[]
}

type Query = (this: pg.Client, config: unknown, ...more: unknown[]) => unknown

/** Listens at the driver: which statements a piece of work sends, whatever else the process does meanwhile. */
export class SqlRecorder {
  readonly #work = new AsyncLocalStorage<SentStatement[]>()
  readonly #query: Query

  constructor() {
    this.#query = pg.Client.prototype.query as unknown as Query
    const { ...recorder } = { work: this.#work, query: this.#query }
    const recording: Query = function (config, ...more) {
      return sendRecorded(this, recorder, config, more)
    }
    pg.Client.prototype.query = recording as typeof pg.Client.prototype.query
  }

  /** The statements of the work, in the order they were sent. */
  async during(work: () => Promise<unknown>): Promise<SentStatement[]> {
    const sent: SentStatement[] = []
    await this.#work.run(sent, work)
    return sent
  }

  stop(): void {
    pg.Client.prototype.query = this.#query as unknown as typeof pg.Client.prototype.query
  }
}

interface Recording {
  readonly work: AsyncLocalStorage<SentStatement[]>
  readonly query: Query
}

function sendRecorded(client: pg.Client, { work, query }: Recording, config: unknown, more: unknown[]): unknown {
  const sent = work.getStore()
  if (sent === undefined) return query.call(client, config, ...more)
  const given =
    typeof config === 'string' ? { text: config } : (config as { text: string; values?: unknown[]; name?: string })
  // Under which name a connection has prepared it is that connection's own affair.
  const { text, values: ownValues, name: _, ...form } = given as typeof given & { values?: unknown[]; name?: string }
  const values = Array.isArray(more[0]) ? more[0] : (ownValues ?? [])
  const statement: SentStatement = { role: roleOf(client), text, values, form, rows: [] }
  sent.push(statement)
  const keep = (result: { rows: unknown[] } | undefined) => {
    statement.rows = result?.rows ?? []
  }
  const last = more.at(-1)
  if (typeof last !== 'function') {
    const answer = query.call(client, config, ...more) as Promise<{ rows: unknown[] }>
    return answer.then((result) => {
      keep(result)
      return result
    })
  }
  const callback = (error: unknown, result: { rows: unknown[] } | undefined) => {
    keep(result)
    last(error, result)
  }
  return query.call(client, config, ...more.slice(0, -1), callback)
}

/** The pools differ in the role that their connections take on. */
function roleOf(client: pg.Client): SqlRole {
  const { options = '' } = (client as unknown as { connectionParameters: { options?: string } }).connectionParameters
  if (options.includes('anode_ledger_service')) return 'service'
  return options.includes('anode_ledger_across') ? 'across' : 'own'
}
