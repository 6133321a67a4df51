import { z } from 'zod'
import type { ReturnedOutcome } from '../../contract/notices.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { findNotice, settleNotice } from '../../db/repositories/notices.js'
import { noteRefusal, setAddressStopped } from '../../db/repositories/reminders.js'
import { readReturnedMail } from '../../outside/returned-mail.js'
import type { Actor } from '../actor.js'

const OF_NOTICE = /^notice\.([0-9a-f-]{36})@/i

/** Letters that a mail server took and another sent back, hours or days later. */
export class ReturnedLetters {
  readonly #db: Db
  readonly #now: () => Date

  constructor(db: Db, now: () => Date) {
    this.#db = db
    this.#now = now
  }

  /**
   * Notes what became of the letter that a mail is about. A mail about no letter of the organisation is no error: whatever comes into the
   * mailbox may be handed on.
   *
   * @param raw the mail as it came
   */
  async take(actor: Actor, raw: Buffer): Promise<ReturnedOutcome> {
    const returned = await readReturnedMail(raw)
    const id = z.uuid().safeParse(returned?.messageId?.match(OF_NOTICE)?.[1]?.toLowerCase())
    if (returned === null || !id.success) return { outcome: 'none', notice: null }
    const { organisationId } = actor
    const key = { organisationId, id: id.data }
    return inOrganisation(this.#db, actor, async (tx) => {
      const notice = await findNotice(tx, key)
      if (notice === undefined) return { outcome: 'none', notice: null }
      const { kind, said } = returned
      const now = this.#now().toISOString()
      if (kind === 'refused' || kind === 'failed')
        await settleNotice(tx, key, { state: kind, nextAttemptAt: null, failure: said })
      if (kind === 'refused') await noteRefusal(tx, organisationId, notice.email, { refusedAt: now, refusal: said })
      if (kind === 'complaint') await setAddressStopped(tx, organisationId, notice.email, now)
      return { outcome: kind === 'complaint' ? 'stopped' : kind, notice: key.id }
    })
  }
}
