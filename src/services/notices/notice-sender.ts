import type { Db, Handles } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { claimNotices, type NoticeRow, settleNotice, toldWhy } from '../../db/repositories/notices.js'
import { noteRefusal } from '../../db/repositories/reminders.js'
import { type Mail, type MailMessage, mailFailureOf } from '../../outside/mail.js'
import { emitWebhookEvent } from '../webhooks/emit.js'

const MINUTE_MS = 60_000
const HOUR_MS = 60 * MINUTE_MS
const DAY_MS = 24 * HOUR_MS

/** How long to wait after each failure; after the last there is no further try. Together 5.5 days: a server that is down for three comes back in time. */
const WAITS_MS = [
  5 * MINUTE_MS,
  30 * MINUTE_MS,
  2 * HOUR_MS,
  6 * HOUR_MS,
  12 * HOUR_MS,
  DAY_MS,
  DAY_MS,
  DAY_MS,
  DAY_MS - 8 * HOUR_MS,
  DAY_MS - 4 * HOUR_MS,
]
/** Longer than any mail server takes to answer: then its sender counts as lost, and somebody else sends it. */
const LEASE_MS = 10 * MINUTE_MS
/** One at a time: mail servers hold many letters at once against a sender. */
const AT_ONCE = 1

export interface SenderMeans {
  readonly mail: Mail
  /** Writes a letter when it is sent, so that it says what is true then; `null` where nothing of what it was about is left. */
  readonly write: (notice: NoticeRow) => Promise<MailMessage | null>
  /** Told of what was sent, besides: what goes wrong there is its own affair. */
  readonly alsoTell: (notice: NoticeRow, letter: MailMessage) => Promise<void>
}

/** Sends the letters that are due. Several processes share the work: each letter is one's at a time. */
export class NoticeSender {
  readonly #db: Db
  readonly #across: Db
  readonly #means: SenderMeans
  readonly #now: () => Date

  constructor({ db, across }: Handles, means: SenderMeans, now: () => Date) {
    this.#db = db
    this.#across = across
    this.#means = means
    this.#now = now
  }

  /** @returns how many were tried; 0 when there is nothing left to do for now */
  async deliverDue(): Promise<number> {
    const now = this.#now()
    const leaseUntil = new Date(now.getTime() + LEASE_MS)
    const claimed = await claimNotices(this.#across, { now, leaseUntil, most: AT_ONCE })
    for (const notice of claimed) await this.#send(notice)
    return claimed.length
  }

  async #send(notice: NoticeRow): Promise<void> {
    const { mail, write, alsoTell } = this.#means
    let letter: MailMessage | null
    try {
      letter = await write(notice)
      if (letter === null) return await this.#settle(notice, { state: 'dropped', failure: null })
      await mail.send(letter)
    } catch (error) {
      return this.#failed(notice, error)
    }
    await this.#settleSent(notice)
    await alsoTell(notice, letter)
  }

  async #settleSent(notice: NoticeRow): Promise<void> {
    const { organisationId, id, kind, email, decidedOn } = notice
    const sentAt = this.#now().toISOString()
    await this.#in(notice, async (tx) => {
      await settleNotice(tx, notice, { state: 'sent', nextAttemptAt: null, sentAt, failure: null })
      const data = { id, kind, to: email, on: decidedOn, sentAt, by: 'e-mail', why: toldWhy(notice.why) }
      await emitWebhookEvent(tx, organisationId, { event: 'notice.sent', data })
    })
  }

  async #failed(notice: NoticeRow, error: unknown): Promise<void> {
    const { kind, said } = mailFailureOf(error)
    if (kind === 'address') {
      await this.#settle(notice, { state: 'refused', failure: said })
      const refused = { refusedAt: this.#now().toISOString(), refusal: said }
      return this.#in(notice, (tx) => noteRefusal(tx, notice.organisationId, notice.email, refused))
    }
    const wait = WAITS_MS[notice.attempts - 1]
    if (wait === undefined) return this.#settle(notice, { state: 'failed', failure: said })
    const nextAttemptAt = new Date(this.#now().getTime() + wait).toISOString()
    await this.#in(notice, (tx) => settleNotice(tx, notice, { state: 'waiting', nextAttemptAt, failure: said }))
  }

  #settle(
    notice: NoticeRow,
    settled: { state: 'refused' | 'failed' | 'dropped'; failure: string | null },
  ): Promise<void> {
    return this.#in(notice, (tx) => settleNotice(tx, notice, { nextAttemptAt: null, ...settled }))
  }

  #in<T>({ organisationId }: NoticeRow, work: (tx: Db) => Promise<T>): Promise<T> {
    return inOrganisation(this.#db, { organisationId, actor: 'notices' }, work)
  }
}
