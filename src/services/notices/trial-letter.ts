import { randomUUID } from 'node:crypto'
import type { TrialOutcome, TrialRequest } from '../../contract/notices.js'
import { type Mail, type MailMessage, mailFailureOf } from '../../outside/mail.js'
import type { Actor } from '../actor.js'
import { Invalid } from '../errors.js'
import type { LetterWriter } from './letter-writer.js'
import type { NoticeDecider } from './notice-decider.js'

/** As far as the preview looks ahead. */
const DAYS = 90

/** Sends a letter of the preview to whoever asks, so that they see what owners will read, and that letters leave at all. */
export class TrialLetter {
  readonly #decider: NoticeDecider
  readonly #writer: LetterWriter
  readonly #mail: Mail

  constructor(decider: NoticeDecider, writer: LetterWriter, mail: Mail) {
    this.#decider = decider
    this.#writer = writer
    this.#mail = mail
  }

  /**
   * Nobody else is written to and nothing is noted: the letter is due as before.
   *
   * @param email of who asks; its links act on their letters, not on the owner's
   * @throws Invalid where no letter is coming, or none about the boat
   */
  async send(actor: Actor, email: string, { boat }: TrialRequest): Promise<TrialOutcome> {
    const letter = await this.#letter(actor, email, boat ?? null)
    if (letter === null) {
      const detail = `no letter ${boat === undefined ? '' : `about ${boat} `}is coming in ${DAYS} days`
      throw new Invalid([{ pointer: '#/boat', detail }])
    }
    const failure = await this.#mail.send(letter).then(
      () => null,
      (error: unknown) => mailFailureOf(error).said,
    )
    return { to: email, subject: letter.subject, failure }
  }

  async #letter({ organisationId, ...actor }: Actor, email: string, boat: string | null): Promise<MailMessage | null> {
    const next = await this.#decider.next(organisationId, DAYS, boat)
    if (next === null) return null
    const notice = { ...next, organisationId, id: randomUUID(), email, attempts: 0 }
    return this.#writer.writeFor(notice, { organisationId, ...actor })
  }
}
