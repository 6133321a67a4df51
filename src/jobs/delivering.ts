/** How often what is due is looked for: what just happened is sent within about a second. */
const LOOK_EVERY_MS = 1_000

/** What sends what is due, a few at once; 0 when there is nothing left for now. */
export interface Delivers {
  deliverDue(): Promise<number>
}

/** Sends what waits, as long as the process runs; others may do the same on one database. */
export class Delivering {
  readonly #work: Delivers
  readonly #onError: (error: Error) => void
  readonly #timer: NodeJS.Timeout
  #round: Promise<void> | undefined
  #isStopping = false

  constructor(work: Delivers, onError: (error: Error) => void) {
    this.#work = work
    this.#onError = onError
    this.#timer = setInterval(() => this.#look(), LOOK_EVERY_MS)
  }

  /** Lets what is being sent be answered: it takes seconds at most. */
  async stop(): Promise<void> {
    this.#isStopping = true
    clearInterval(this.#timer)
    await this.#round
  }

  #look(): void {
    if (this.#round !== undefined) return
    this.#round = this.#sendAll()
      .catch(this.#onError)
      .finally(() => {
        this.#round = undefined
      })
  }

  async #sendAll(): Promise<void> {
    while (!this.#isStopping && (await this.#work.deliverDue()) > 0);
  }
}
