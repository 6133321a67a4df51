import type { FastifyRequest } from 'fastify'
import type { AttemptLimit, Attempts } from '../../services/access/attempts.js'
import { sha256 } from '../../services/access/secrets.js'
import { addressOf, tooMany } from './limit-attempts.js'

/** A program with an old key tries a few times a minute; a key of 256 bits is not guessed at any pace, so this only spares the database. */
const WRONG_KEYS: AttemptLimit = { what: 'key', max: 30, withinMs: 60_000 }
/** Of each kind: what is beyond it is looked up again. */
const MOST_REMEMBERED = 10_000
const SECOND_MS = 1000

/**
 * Turns away, before the database is asked, whoever sends one wrong key after the other. Keys that opened from this process's start on go on
 * opening from the same address: an office with one forgotten program is not locked out.
 */
export class KeyGuesses {
  private readonly attempts: Attempts
  private readonly now: () => number
  private readonly refusedUntil = new Map<string, number>()
  private readonly right = new Set<string>()

  constructor(attempts: Attempts, now: () => number = Date.now) {
    this.attempts = attempts
    this.now = now
  }

  /** @throws HttpProblem 429 */
  refuseGuessers(request: FastifyRequest, secret: string): void {
    const until = this.refusedUntil.get(addressOf(request))
    const waitMs = (until ?? 0) - this.now()
    // A longer wait than any is one from before the clock was put back.
    if (waitMs <= 0 || waitMs > WRONG_KEYS.withinMs + SECOND_MS || this.right.has(sha256(secret))) return
    throw tooMany(Math.ceil(waitMs / SECOND_MS))
  }

  wasRight(secret: string): void {
    remember(this.right, () => this.right.add(sha256(secret)))
  }

  /** @throws HttpProblem 429 from the attempt on that is one too many */
  async wasWrong(request: FastifyRequest, secret: string): Promise<void> {
    this.right.delete(sha256(secret))
    const address = addressOf(request)
    const waitS = await this.attempts.count(WRONG_KEYS, address)
    if (waitS === 0) return
    remember(this.refusedUntil, () => this.refusedUntil.set(address, this.now() + waitS * SECOND_MS))
    throw tooMany(waitS)
  }
}

function remember(kept: { readonly size: number; clear(): void }, add: () => unknown): void {
  if (kept.size >= MOST_REMEMBERED) kept.clear()
  add()
}
