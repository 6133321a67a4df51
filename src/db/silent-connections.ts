import pg from 'pg'

/** A connection at work that brought nothing for this long has the server asked whether it is there: few statements take so long. Convention. */
const SILENT_MS = 5_000
const LOOK_EVERY_MS = 1_000
/** Time for a new connection to be answered: several round trips, one of them repeated once (TCP repeats a lost opening after 1 s, RFC 6298). */
const ANSWER_LIMIT_MS = 5_000

/** When a connection at work last brought something. */
interface Heard {
  bytes: number
  at: number
}

/**
 * Ends connections whose server vanished without a word: a host without power, a network that swallows packets. What was sent and is not
 * acknowledged is repeated by the operating system for a quarter of an hour (Linux, tcp(7), tcp_retries2), for so long would whoever asked wait. A
 * long statement is let be: where a connection is silent, the server is asked over a new one, and only where that goes unanswered too is
 * the silent one given up. Then its statements fail like those of any broken connection.
 */
export class SilentConnections {
  readonly #address: string
  readonly #atWork = new Map<pg.PoolClient, Heard>()
  readonly #timer: NodeJS.Timeout
  #isAsking = false

  constructor(address: string) {
    this.#address = address
    this.#timer = setInterval(() => void this.#look(), LOOK_EVERY_MS).unref()
  }

  /** From when they are taken from the pool until they are given back. */
  watch(pool: pg.Pool): void {
    pool.on('acquire', (client) =>
      this.#atWork.set(client, {
        bytes: streamOf(client).bytesRead,
        at: performance.now(),
      }),
    )
    pool.on('release', (_error, client) => this.#atWork.delete(client))
  }

  stop(): void {
    clearInterval(this.#timer)
  }

  async #look(): Promise<void> {
    const silent = this.#silent()
    if (silent.length === 0 || this.#isAsking) return
    this.#isAsking = true
    const answers = await this.#serverAnswers()
    this.#isAsking = false
    if (answers) return this.#hearAgain(silent)
    const still = new Set(this.#silent())
    for (const client of silent) if (still.has(client)) streamOf(client).destroy()
  }

  #silent(): pg.PoolClient[] {
    const now = performance.now()
    for (const [client, heard] of this.#atWork) {
      const bytes = streamOf(client).bytesRead
      if (bytes !== heard.bytes) this.#atWork.set(client, { bytes, at: now })
    }
    return [...this.#atWork].filter(([, { at }]) => now - at >= SILENT_MS).map(([client]) => client)
  }

  /** A server that is there is asked again only after another silence. */
  #hearAgain(clients: readonly pg.PoolClient[]): void {
    for (const client of clients) {
      const heard = this.#atWork.get(client)
      if (heard !== undefined) heard.at = performance.now()
    }
  }

  /** A refusal is an answer. */
  async #serverAnswers(): Promise<boolean> {
    const client = new pg.Client({
      connectionString: this.#address,
      connectionTimeoutMillis: ANSWER_LIMIT_MS,
    })
    client.on('error', () => {})
    try {
      await client.connect()
      void client.end().catch(() => {})
      return true
    } catch (error) {
      return error instanceof pg.DatabaseError
    }
  }
}

interface Stream {
  readonly bytesRead: number
  destroy(): void
}

/** Read each time: encryption puts another in its place. */
const streamOf = (client: pg.PoolClient) => (client as unknown as { connection: { stream: Stream } }).connection.stream
