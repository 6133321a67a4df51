import { type Span, SpanKind } from '@opentelemetry/api'
import { type AskedBy, askedBy } from './asked-by.js'
import { noteSlowStatement, noteStatement } from './process-figures.js'
import { beginSpan, failSpan, isTraced } from './spans.js'

/** A statement that took long: as it was sent, with places for its values and without them. */
export interface SlowStatement extends AskedBy {
  readonly text: string
  readonly durationMs: number
}

export interface StatementWatchOptions {
  /** From here on a statement is slow [ms]; undefined: none is. */
  readonly slowMs?: number | undefined
  readonly onSlow?: (statement: SlowStatement) => void
}

/** Statements made of many rows' places are as long as the rows are many: what is shown is enough to know them by. */
const SHOWN_CHARACTERS = 4_000

/** Ends what `begin` began, with the error where there was one. */
export type EndOfStatement = (error?: unknown) => void

/** Times each statement, tells the slow ones, and gives it a span where what asked for it is traced. */
export class StatementWatch {
  readonly #slowMs: number
  readonly #onSlow: (statement: SlowStatement) => void

  constructor({ slowMs = Number.POSITIVE_INFINITY, onSlow = () => {} }: StatementWatchOptions = {}) {
    this.#slowMs = slowMs
    this.#onSlow = onSlow
  }

  /** @param text with `$1` for values: they are not seen here, so that they cannot be told */
  begin(text: string): EndOfStatement {
    const operation = operationOf(text)
    const span = isTraced() ? spanOf(operation, text) : undefined
    const who = askedBy()
    const startedAt = performance.now()
    return (error) => {
      const durationMs = performance.now() - startedAt
      noteStatement(operation, error === undefined ? 'done' : 'failed', durationMs / 1000)
      if (error !== undefined && span !== undefined) failSpan(span, error)
      span?.end()
      if (durationMs < this.#slowMs) return
      noteSlowStatement()
      this.#onSlow({ text: shown(text), durationMs: Math.round(durationMs), ...who })
    }
  }

  /** The same around a promise. */
  async during<Answer>(text: string, work: () => Promise<Answer>): Promise<Answer> {
    const end = this.begin(text)
    try {
      const answer = await work()
      end()
      return answer
    } catch (error) {
      end(error)
      throw error
    }
  }
}

/** Named as the semantic conventions for databases say. */
function spanOf(operation: string, text: string): Span {
  const attributes = { 'db.system.name': 'postgresql', 'db.operation.name': operation, 'db.query.text': shown(text) }
  return beginSpan(operation, { kind: SpanKind.CLIENT, attributes })
}

const shown = (text: string) => (text.length <= SHOWN_CHARACTERS ? text : `${text.slice(0, SHOWN_CHARACTERS)}…`)

const OPERATIONS = new Set(['SELECT', 'INSERT', 'UPDATE', 'DELETE', 'WITH', 'BEGIN', 'COMMIT', 'ROLLBACK', 'SET'])

/** The word that a statement begins with, of those that there are many of. */
function operationOf(text: string): string {
  const word = /^\s*(\w+)/.exec(text)?.[1]?.toUpperCase() ?? ''
  return OPERATIONS.has(word) ? word : 'OTHER'
}
