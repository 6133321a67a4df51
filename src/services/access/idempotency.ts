import type { Db } from '../../db/client.js'
import {
  findKey,
  forgetKey,
  forgetKeysBefore,
  forgetUnansweredKeys,
  type KeyOfRequest,
  reserveKey,
  storeAnswer,
  takeOverKey,
} from '../../db/repositories/idempotency-keys.js'

const MINUTE_MS = 60_000
const HOUR_MS = 60 * MINUTE_MS
/** Longer than an offline phone is out of reach of its yard. */
const REMEMBERED_MS = 7 * 24 * HOUR_MS
/**
 * Longer than any request takes. A key without an answer that is older was left by a process that died: the request is
 * let through again. Whether the first one had been written, the natural keys tell (a boat's name, an anode and its day,
 * a boat and its haul-out's day): they refuse a second one with 409, so nothing is there twice.
 */
const ABANDONED_MS = 5 * MINUTE_MS

export interface StoredAnswer {
  readonly status: number
  readonly headers: Record<string, string>
  readonly body: string
}

export type Reservation =
  | { readonly state: 'reserved' }
  | { readonly state: 'answered'; readonly answer: StoredAnswer }
  | { readonly state: 'running' }
  | { readonly state: 'other request' }

/** Answers to requests that may be sent twice: the second time they are given again, and nothing is done. */
export class IdempotencyService {
  private readonly db: Db
  private readonly now: () => Date
  private forgottenAt = 0

  constructor(db: Db, now: () => Date) {
    this.db = db
    this.now = now
  }

  async reserve(key: KeyOfRequest, requestSha256: string): Promise<Reservation> {
    await this.forgetOld()
    if (await reserveKey(this.db, key, requestSha256, this.now())) return { state: 'reserved' }
    const row = await findKey(this.db, key)
    // Between the two queries the request that held the key failed and gave it back: the next attempt gets it.
    if (!row) return { state: 'running' }
    if (row.requestSha256 !== requestSha256) return { state: 'other request' }
    if (row.status !== null) {
      const headers = (row.headers ?? {}) as Record<string, string>
      return { state: 'answered', answer: { status: row.status, headers, body: row.body ?? '' } }
    }
    const abandonedBefore = new Date(this.now().getTime() - ABANDONED_MS)
    const taken = await takeOverKey(this.db, key, abandonedBefore, this.now())
    return { state: taken ? 'reserved' : 'running' }
  }

  complete(key: KeyOfRequest, answer: StoredAnswer): Promise<void> {
    return storeAnswer(this.db, key, answer)
  }

  /** After a failure of the service the same request may be tried again. */
  release(key: KeyOfRequest): Promise<void> {
    return forgetKey(this.db, key)
  }

  /**
   * To be called before requests are taken where this process alone uses the database: whoever held a key is dead, and a phone
   * that repeats itself need not wait.
   */
  releaseAbandoned(): Promise<void> {
    return forgetUnansweredKeys(this.db)
  }

  private async forgetOld(): Promise<void> {
    const now = this.now().getTime()
    if (now - this.forgottenAt < HOUR_MS) return
    this.forgottenAt = now
    await forgetKeysBefore(this.db, new Date(now - REMEMBERED_MS))
  }
}
