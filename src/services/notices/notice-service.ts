import type {
  NoticeItem,
  NoticePreview,
  NoticeQuery,
  ReminderSettings,
  ReminderSettingsChange,
} from '../../contract/notices.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { pageOfNotices, retryNotice } from '../../db/repositories/notices.js'
import { noteRefusal, readReminderSettings, saveReminderSettings } from '../../db/repositories/reminders.js'
import type { Actor } from '../actor.js'
import { NotFound } from '../errors.js'
import type { NoticeDecider } from './notice-decider.js'

/** What an organisation sends, has sent and would send. */
export class NoticeService {
  readonly #db: Db
  readonly #decider: NoticeDecider
  readonly #now: () => Date

  constructor(db: Db, decider: NoticeDecider, now: () => Date) {
    this.#db = db
    this.#decider = decider
    this.#now = now
  }

  settings(actor: Actor): Promise<ReminderSettings> {
    return inOrganisation(this.#db, actor, (tx) => readReminderSettings(tx, actor.organisationId))
  }

  /** Switched on, what is due is decided at once: nobody waits for the next hour to see that it works. */
  async change(actor: Actor, change: ReminderSettingsChange): Promise<ReminderSettings> {
    const { organisationId } = actor
    const settings = await inOrganisation(this.#db, actor, async (tx) => {
      await saveReminderSettings(tx, organisationId, change)
      return readReminderSettings(tx, organisationId)
    })
    if (change.enabled === true) await this.#decider.decide(organisationId)
    return settings
  }

  /** @throws BadCursor */
  page(actor: Actor, query: NoticeQuery): Promise<Page<NoticeItem>> {
    return inOrganisation(this.#db, actor, (tx) => pageOfNotices(tx, actor.organisationId, query))
  }

  preview({ organisationId }: Actor, days: number): Promise<NoticePreview> {
    return this.#decider.preview(organisationId, days)
  }

  /**
   * Begins the tries of a letter anew that was given up or refused; an address that was refused counts as mended.
   *
   * @throws NotFound where it is neither
   */
  async retry(actor: Actor, id: string): Promise<void> {
    const { organisationId } = actor
    await inOrganisation(this.#db, actor, async (tx) => {
      const again = await retryNotice(tx, { organisationId, id }, this.#now())
      if (again === undefined) throw new NotFound('a letter that was given up')
      await noteRefusal(tx, organisationId, again.email, { refusedAt: null, refusal: null })
    })
  }
}
