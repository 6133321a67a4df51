import pg from 'pg'

/** Statements of one connection that are kept prepared; each holds some memory of the server. */
const MOST_PREPARED = 100
/** Texts of one connection that are counted; lists of varying length make ever new ones. */
const MOST_COUNTED = 1000
/** A text is prepared the third time: one that comes once, as an import's, is never asked for again. */
const PREPARED_FROM = 3
const PREPARABLE = /^\s*(select|insert|update|delete|with)\b/i
const BEGIN = /^begin\b/i

interface Given {
  readonly text: string
  readonly name?: string | undefined
}

/**
 * A connection that loses no time between statements: what is asked for in one go travels in one go, without waiting for the answer before
 * it; the beginning of a transaction goes along with the first statement in it; and a statement that comes again is prepared.
 *
 * Statements are done in the order they were asked for. After one that fails, those of the same transaction that were on their way are
 * refused too.
 */
export class SwiftClient extends pg.Client {
  readonly #seen = new Map<string, number>()
  readonly #prepared = new Map<string, string>()

  constructor(config?: pg.ClientConfig) {
    super({ ...config, pipeline: true })
  }

  // biome-ignore lint/suspicious/noExplicitAny: the driver's many forms, all handed on as they are
  override query(given: any, ...more: any[]): any {
    const { stream } = this.connection as unknown as { stream: NodeJS.WritableStream & Corkable }
    stream.cork()
    process.nextTick(() => stream.uncork())
    const ask = super.query as unknown as (...all: unknown[]) => Promise<unknown>
    if (BEGIN.test(textOf(given)) && more.every((each) => typeof each !== 'function')) {
      // Should it ever be refused, nothing may be written outside of a transaction.
      ask.call(this, given, ...more).catch(() => this.connection.stream.destroy())
      return Promise.resolve({ rows: [], fields: [], rowCount: null, command: 'BEGIN' })
    }
    return ask.call(this, this.#named(given), ...more)
  }

  /** The statement with a name, by which the driver and the server know it again; as it is where that does not pay. */
  #named(given: unknown): unknown {
    if (!isStatement(given) || given.name !== undefined) return given
    const name = this.#prepared.get(given.text) ?? this.#newName(given.text)
    return name === undefined ? given : { ...given, name }
  }

  #newName(text: string): string | undefined {
    if (this.#prepared.size >= MOST_PREPARED) return undefined
    const times = (this.#seen.get(text) ?? 0) + 1
    if (times < PREPARED_FROM || !PREPARABLE.test(text)) {
      if (this.#seen.size < MOST_COUNTED || times > 1) this.#seen.set(text, times)
      return undefined
    }
    this.#seen.delete(text)
    const name = `swift_${this.#prepared.size + 1}`
    this.#prepared.set(text, name)
    return name
  }
}

interface Corkable {
  cork(): void
  uncork(): void
}

function isStatement(given: unknown): given is Given {
  return typeof given === 'object' && given !== null && 'text' in given && typeof given.text === 'string'
}

const textOf = (given: unknown) => (typeof given === 'string' ? given : isStatement(given) ? given.text : '')
