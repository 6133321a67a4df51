import type { SqlExecutor } from '../db/client.js'
import { outOfService } from '../db/out-of-service.js'

const AGAIN_AFTER_MS = 1000

/**
 * The queue's way to the database, which waits while that is away or its disk is full. The queue's library does not await what it writes when
 * a job ends: a failure there would end the process, and the job's end would be lost.
 */
export class WaitingExecutor implements SqlExecutor {
  readonly #executor: SqlExecutor
  readonly #onError: (error: Error) => void
  #waits = false

  constructor(executor: SqlExecutor, onError: (error: Error) => void) {
    this.#executor = executor
    this.#onError = onError
  }

  /** From here on; a start says at once that there is no database. */
  beginWaiting(): void {
    this.#waits = true
  }

  endWaiting(): void {
    this.#waits = false
  }

  async executeSql(text: string, values?: unknown[]): Promise<{ rows: unknown[] }> {
    for (let attempt = 1; ; attempt++) {
      try {
        return await this.#executor.executeSql(text, values)
      } catch (error) {
        if (!this.#waits || outOfService(error) === undefined) throw error
        if (attempt === 1) this.#onError(error as Error)
        await new Promise((resolve) => setTimeout(resolve, AGAIN_AFTER_MS))
      }
    }
  }
}
