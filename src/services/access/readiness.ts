import { sql } from 'drizzle-orm'
import type { Db } from '../../db/client.js'
import type { PhotoStore } from '../../outside/photo-store.js'
import { PHOTO_STORE } from '../photos/answering-store.js'

export const DATABASE = 'the database'

/**
 * A part that is silent for longer is away: whoever asks wants to hear which one before they give up themselves. Assumed: database and
 * bucket answer within milliseconds; a proxy waits for some seconds.
 */
const LIMIT_MS = 2_000
/** What was heard counts for so long: who asks more often costs no more. */
const KEPT_MS = 2_000

interface Part {
  readonly name: string
  ask(): Promise<unknown>
}

interface Heard {
  readonly at: number
  readonly isThere: Promise<boolean>
}

export interface ReadinessLimits {
  readonly limitMs?: number
  readonly keptMs?: number
}

/** Whether the parts that requests need answer. Migrations are done before the service listens at all. */
export class Readiness {
  readonly #parts: readonly Part[]
  readonly #now: () => Date
  readonly #limitMs: number
  readonly #keptMs: number
  readonly #heard = new Map<string, Heard>()
  /** Questions that are still open, whether or not anybody waits for them. */
  readonly #open = new Map<string, Promise<boolean>>()

  constructor(db: Db, store: PhotoStore, now: () => Date, limits: ReadinessLimits = {}) {
    this.#parts = [
      { name: DATABASE, ask: () => db.execute(sql`select 1`) },
      { name: PHOTO_STORE, ask: () => store.answers() },
    ]
    this.#now = now
    this.#limitMs = limits.limitMs ?? LIMIT_MS
    this.#keptMs = limits.keptMs ?? KEPT_MS
  }

  /** The parts that do not answer within the limit; none where the service is ready. */
  async away(): Promise<string[]> {
    const there = await Promise.all(this.#parts.map((part) => this.#isThere(part)))
    return this.#parts.filter((_, index) => !there[index]).map(({ name }) => name)
  }

  #isThere(part: Part): Promise<boolean> {
    const at = this.#now().getTime()
    const before = this.#heard.get(part.name)
    // A clock that was put back must not keep an old answer until it has caught up.
    if (before !== undefined && Math.abs(at - before.at) < this.#keptMs) return before.isThere
    const isThere = within(this.#limitMs, this.#open.get(part.name) ?? this.#ask(part))
    this.#heard.set(part.name, { at, isThere })
    return isThere
  }

  /** One question at a time: a database that hangs would else lose a connection to each. */
  #ask({ name, ask }: Part): Promise<boolean> {
    const answer = ask().then(
      () => true,
      () => false,
    )
    this.#open.set(name, answer)
    return answer.finally(() => this.#open.delete(name))
  }
}

async function within(limitMs: number, answer: Promise<boolean>): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined
  const tooLate = new Promise<false>((resolve) => {
    timer = setTimeout(resolve, limitMs, false)
  })
  try {
    return await Promise.race([answer, tooLate])
  } finally {
    clearTimeout(timer)
  }
}
