/**
 * Lets so many pieces of work run at a time; the others wait for their turn, in the order they came. Reading one large
 * photo takes up to 200 MB: twenty phones at once must not.
 *
 * @example const turns = new Turns(2); await turns.take(() => decode(file))
 */
export class Turns {
  #free: number
  readonly #waiting: (() => void)[] = []

  constructor(atATime: number) {
    this.#free = atATime
  }

  async take<Result>(work: () => Promise<Result>): Promise<Result> {
    if (this.#free > 0) this.#free--
    else await new Promise<void>((resolve) => this.#waiting.push(resolve))
    try {
      return await work()
    } finally {
      const next = this.#waiting.shift()
      if (next) next()
      else this.#free++
    }
  }
}
