import type { Db } from '../../db/client.js'
import {
  type OldestWaiting,
  oldestWaiting,
  type StateCount,
  unfinishedCounts,
} from '../../db/repositories/waiting-counts.js'

/** What whoever runs the service watches, over all organisations. */
export class Figures {
  readonly #across: Db

  constructor(across: Db) {
    this.#across = across
  }

  /** Jobs, letters and webhook messages that are under way or were given up. */
  unfinished(): Promise<StateCount[]> {
    return unfinishedCounts(this.#across)
  }

  /** For how long what is due has waited, by kind. */
  oldestWaiting(): Promise<OldestWaiting[]> {
    return oldestWaiting(this.#across)
  }
}
