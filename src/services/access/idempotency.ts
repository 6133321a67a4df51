import type { Db, Handles } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
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
  private readonly across: Db
  private readonly now: () => Date
  /** What keys are owed since the database went away under their requests: done when one of them is asked for again. */
  private readonly owed = new Map<string, () => Promise<void>>()

  constructor({ db, across }: Handles, now: () => Date) {
    this.db = db
    this.across = across
    this.now = now
  }

  async reserve(key: KeyOfRequest, requestSha256: string): Promise<Reservation> {
    await this.settle(key)
    return inOrganisation(this.db, key, (tx) => this.reserveIn(tx, key, requestSha256))
  }

  private async reserveIn(tx: Db, key: KeyOfRequest, requestSha256: string): Promise<Reservation> {
    if (await reserveKey(tx, key, requestSha256, this.now())) return { state: 'reserved' }
    const row = await findKey(tx, key)
    // Between the two queries the request that held the key failed and gave it back: the next attempt gets it.
    if (!row) return { state: 'running' }
    if (row.requestSha256 !== requestSha256) return { state: 'other request' }
    if (row.status !== null) {
      const headers = (row.headers ?? {}) as Record<string, string>
      return { state: 'answered', answer: { status: row.status, headers, body: row.body ?? '' } }
    }
    const taken = await takeOverKey(tx, key, ABANDONED_MS, this.now())
    return { state: taken ? 'reserved' : 'running' }
  }

  /** The request was done and its answer goes out, even if this cannot be written down just now. */
  complete(key: KeyOfRequest, answer: StoredAnswer): Promise<void> {
    return this.doOrOwe(key, () => inOrganisation(this.db, key, (tx) => storeAnswer(tx, key, answer)))
  }

  /** After a failure of the service the same request may be tried again. */
  release(key: KeyOfRequest): Promise<void> {
    return this.doOrOwe(key, () => inOrganisation(this.db, key, (tx) => forgetKey(tx, key)))
  }

  private async doOrOwe(key: KeyOfRequest, work: () => Promise<void>): Promise<void> {
    try {
      await work()
    } catch {
      this.owed.set(nameOf(key), work)
    }
  }

  private async settle(key: KeyOfRequest): Promise<void> {
    const work = this.owed.get(nameOf(key))
    if (work === undefined) return
    await work()
    this.owed.delete(nameOf(key))
  }

  /**
   * To be called before requests are taken where this process alone uses the database: whoever held a key is dead, and a phone
   * that repeats itself need not wait.
   */
  releaseAbandoned(): Promise<void> {
    return forgetUnansweredKeys(this.across)
  }

  /** To be called now and then, by one process for all: it looks through the keys of every organisation. */
  forgetOld(): Promise<void> {
    return forgetKeysBefore(this.across, new Date(this.now().getTime() - REMEMBERED_MS))
  }
}

const nameOf = ({ organisationId, actor, key }: KeyOfRequest) => JSON.stringify([organisationId, actor, key])
