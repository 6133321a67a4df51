import { createHmac, timingSafeEqual } from 'node:crypto'
import { z } from 'zod'

/** Whom and what a link in a letter is about: one boat's letters, or with `null` all letters to the address. */
export interface LinkSubject {
  readonly organisationId: string
  readonly email: string
  readonly boatId: string | null
}

const Payload = z.tuple([z.uuid(), z.string().min(1).max(320), z.uuid().nullable()])

/** A way in, until a day: what the link to the boat itself holds. */
export interface Entry extends LinkSubject {
  /** Its last day, 'YYYY-MM-DD'. */
  readonly until: string
}

const EntryPayload = z.tuple([...Payload.def.items, z.iso.date()])

/** Set apart from each other, and from everything else that the secret signs. */
const PURPOSES = { letter: 'anode-ledger letter link 1', entry: 'anode-ledger letter entry 1' } as const
type Purpose = keyof typeof PURPOSES

/**
 * Signs what a link in a letter may do, so that it works without signing in and cannot be made up. It holds as long as the letter is kept:
 * it changes only the reminders of one address, and the record of a boat that is theirs.
 */
export class LetterLinks {
  readonly #secret: string
  readonly #publicUrl: string

  constructor(secret: string, publicUrl: string) {
    this.#secret = secret
    this.#publicUrl = publicUrl
  }

  tokenOf({ organisationId, email, boatId }: LinkSubject): string {
    return this.#signed('letter', [organisationId, email, boatId])
  }

  entryTokenOf({ organisationId, email, boatId, until }: Entry): string {
    return this.#signed('entry', [organisationId, email, boatId, until])
  }

  /** @returns `null` for a token that was not signed here for this */
  read(token: string): LinkSubject | null {
    const payload = this.#payloadOf('letter', token)
    if (payload === null) return null
    const [organisationId, email, boatId] = Payload.parse(payload)
    return { organisationId, email, boatId }
  }

  /** @returns `null` for a token that was not signed here for this; whether its day is over is for the caller to say */
  readEntry(token: string): Entry | null {
    const payload = this.#payloadOf('entry', token)
    if (payload === null) return null
    const [organisationId, email, boatId, until] = EntryPayload.parse(payload)
    return { organisationId, email, boatId, until }
  }

  /** The page on which to choose: later, done already, no more. */
  choose(subject: LinkSubject): string {
    return new URL(`/letters/${this.tokenOf(subject)}`, this.#publicUrl).href
  }

  /** Where a mail program posts to end the letters (RFC 8058). */
  unsubscribe(subject: LinkSubject): string {
    return new URL(`/v1/letters/${this.tokenOf(subject)}/unsubscribe`, this.#publicUrl).href
  }

  /** The owner's page, opened for its reader. */
  entry(entry: Entry): string {
    return new URL(`/letters/open/${this.entryTokenOf(entry)}`, this.#publicUrl).href
  }

  page(path: string): string {
    return new URL(path, this.#publicUrl).href
  }

  /** What message ids end in. */
  get host(): string {
    return new URL(this.#publicUrl).hostname
  }

  #signed(purpose: Purpose, content: readonly unknown[]): string {
    const payload = Buffer.from(JSON.stringify(content)).toString('base64url')
    return `${payload}.${this.#signature(purpose, payload)}`
  }

  #payloadOf(purpose: Purpose, token: string): unknown {
    const [payload = '', signature = '', ...rest] = token.split('.')
    const expected = Buffer.from(this.#signature(purpose, payload))
    const given = Buffer.from(signature)
    if (rest.length > 0 || expected.length !== given.length || !timingSafeEqual(expected, given)) return null
    return JSON.parse(Buffer.from(payload, 'base64url').toString())
  }

  #signature(purpose: Purpose, payload: string): string {
    return createHmac('sha256', this.#secret).update(`${PURPOSES[purpose]}\n${payload}`).digest('base64url')
  }
}
