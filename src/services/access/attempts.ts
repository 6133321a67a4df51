import type { Db } from '../../db/client.js'
import { countAttempt, forgetAttemptsBefore } from '../../db/repositories/attempts.js'
import { sha256 } from './secrets.js'

const SECOND_MS = 1000
const HOUR_MS = 3_600_000

/** How often something may be tried. */
export interface AttemptLimit {
  /** What is tried: each is counted by itself. */
  readonly what: string
  readonly max: number
  readonly withinMs: number
}

/**
 * Counts what is worth guessing or sends a letter, in the database: all processes of the service count together, and a restart forgets
 * nothing. What is asked for all day is counted in each process's own memory (`http/security.ts`), for a statement a request would be
 * paid by everybody.
 */
export class Attempts {
  private readonly across: Db
  private readonly now: () => Date
  private forgottenAt = 0

  constructor(across: Db, now: () => Date) {
    this.across = across
    this.now = now
  }

  /**
   * Counts one attempt of somebody.
   *
   * @returns for how long nothing more is taken [s]; 0 while it is
   */
  async count({ what, max, withinMs }: AttemptLimit, who: string): Promise<number> {
    const now = this.now()
    await this.forgetOld(now)
    const { count, until } = await countAttempt(
      this.across,
      sha256(`${what} ${who}`),
      now,
      new Date(now.getTime() + withinMs),
    )
    return count <= max ? 0 : Math.max(1, Math.ceil((new Date(until).getTime() - now.getTime()) / SECOND_MS))
  }

  private async forgetOld(now: Date): Promise<void> {
    if (now.getTime() - this.forgottenAt < HOUR_MS) return
    this.forgottenAt = now.getTime()
    await forgetAttemptsBefore(this.across, now)
  }
}
