import { createHmac, timingSafeEqual } from 'node:crypto'
import { z } from 'zod'

/** Whom and what a link in a letter is about: one boat's letters, or with `null` all letters to the address. */
export interface LinkSubject {
  readonly organisationId: string
  readonly email: string
  readonly boatId: string | null
}

const Payload = z.tuple([z.uuid(), z.string().min(1).max(320), z.uuid().nullable()])

/** Set apart from everything else that the secret signs. */
const PURPOSE = 'anode-ledger letter link 1'

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
    const payload = Buffer.from(JSON.stringify([organisationId, email, boatId])).toString('base64url')
    return `${payload}.${this.#signature(payload)}`
  }

  /** @returns `null` for a token that was not signed here */
  read(token: string): LinkSubject | null {
    const [payload = '', signature = '', ...rest] = token.split('.')
    const expected = Buffer.from(this.#signature(payload))
    const given = Buffer.from(signature)
    if (rest.length > 0 || expected.length !== given.length || !timingSafeEqual(expected, given)) return null
    const [organisationId, email, boatId] = Payload.parse(JSON.parse(Buffer.from(payload, 'base64url').toString()))
    return { organisationId, email, boatId }
  }

  /** The page on which to choose: later, done already, no more. */
  choose(subject: LinkSubject): string {
    return new URL(`/letters/${this.tokenOf(subject)}`, this.#publicUrl).href
  }

  /** Where a mail program posts to end the letters (RFC 8058). */
  unsubscribe(subject: LinkSubject): string {
    return new URL(`/v1/letters/${this.tokenOf(subject)}/unsubscribe`, this.#publicUrl).href
  }

  boat(name: string): string {
    return new URL(`/boats/${encodeURIComponent(name)}`, this.#publicUrl).href
  }

  page(path: string): string {
    return new URL(path, this.#publicUrl).href
  }

  /** What message ids end in. */
  get host(): string {
    return new URL(this.#publicUrl).hostname
  }

  #signature(payload: string): string {
    return createHmac('sha256', this.#secret).update(`${PURPOSE}\n${payload}`).digest('base64url')
  }
}
