import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { findBoat } from '../../db/repositories/boats.js'
import type { KeptWhy, NoticeRow } from '../../db/repositories/notices.js'
import { findOrganisation } from '../../db/repositories/organisations.js'
import { readerChoices, readReminderSettings, silentAddresses } from '../../db/repositories/reminders.js'
import { stillTrue } from '../../db/repositories/still-true.js'
import { localDay } from '../../engine/notices/quiet-hours.js'
import { type BoatLetterFacts, boatLetter } from '../../outside/letters/boat-letter.js'
import { html, plainText, type WrittenLetter } from '../../outside/letters/letter.js'
import { summaryLetter } from '../../outside/letters/summary-letter.js'
import type { MailMessage } from '../../outside/mail.js'
import { nextLiftOf } from '../../presentation/next-lift.js'
import type { Actor } from '../actor.js'
import { addDays, utcDay } from '../dates/not-in-future.js'
import type { FindingService } from '../findings/finding-service.js'
import type { DepletionService } from '../forecasts/depletion-service.js'
import type { LetterLinks, LinkSubject } from './letter-links.js'
import type { TeamLetters } from './team-letters.js'

export interface WriterServices {
  readonly depletion: DepletionService
  readonly findings: FindingService
  readonly team: TeamLetters
}

/** How long a letter opens its page without a sign-in. Common practice for links in letters: a month. */
const OPENS_DAYS = 30
/** A page of findings is more than a letter tells. */
const MOST_FINDINGS = 10

/** Writes letters of what is true when they are sent. */
export class LetterWriter {
  readonly #db: Db
  readonly #services: WriterServices
  readonly #links: LetterLinks
  readonly #now: () => Date

  constructor(db: Db, services: WriterServices, links: LetterLinks, now: () => Date) {
    this.#db = db
    this.#services = services
    this.#links = links
    this.#now = now
  }

  /** @returns `null` where nothing that it was about is left, or its reader wants no more letters */
  async write(notice: NoticeRow): Promise<MailMessage | null> {
    const { organisationId, email } = notice
    const silent = await inOrganisation(this.#db, inNameOfNotices(notice), (tx) => silentAddresses(tx, organisationId))
    if (silent.has(email)) return null
    const asOwner: Actor = { organisationId, actor: 'notices', role: 'owner', ownerEmail: email }
    return this.writeFor(notice, asOwner)
  }

  /**
   * As `write`, whatever its reader wants.
   *
   * @param actor whose eyes see what it tells of
   */
  async writeFor(notice: NoticeRow, actor: Actor): Promise<MailMessage | null> {
    const { organisationId, email } = notice
    const { settings, choices, yard } = await inOrganisation(this.#db, inNameOfNotices(notice), async (tx) => ({
      settings: await readReminderSettings(tx, organisationId),
      choices: await readerChoices(tx, email),
      yard: (await findOrganisation(tx, organisationId))?.name ?? '',
    }))
    const reader = {
      reading: { language: choices.language ?? settings.language, massUnit: choices.massUnit },
      today: localDay(this.#now(), choices.timeZone ?? settings.timeZone),
      yard,
      email,
    }
    const letter = await this.#letter(notice, actor, reader)
    return letter && this.#addressed(notice, letter, reader.reading.language)
  }

  async #letter(notice: NoticeRow, actor: Actor, reader: Reader): Promise<WrittenLetter | null> {
    if (notice.kind === 'digest' || notice.kind === 'lifts') return this.#services.team.write(notice, reader)
    const why = await inOrganisation(this.#db, inNameOfNotices(notice), (tx) =>
      stillTrue(tx, notice.organisationId, notice.why),
    )
    if (why.length === 0) return null
    if (notice.kind === 'boat') return this.#boatLetter(notice, why, actor, reader)
    return summaryLetter({
      ...reader,
      why,
      links: { boats: this.#entry(notice), choose: this.#links.choose(subjectOf(notice)) },
    })
  }

  async #boatLetter(
    notice: NoticeRow,
    why: readonly KeptWhy[],
    actor: Actor,
    reader: Reader,
  ): Promise<WrittenLetter | null> {
    const boat = await inOrganisation(this.#db, actor, (tx) => findBoat(tx, actor, notice.boatId!))
    // Sold meanwhile: its new owner has letters of their own.
    if (boat === undefined) return null
    const depletion = await this.#services.depletion.read(actor, boat.id)
    const findings = await this.#services.findings.page(actor, {
      boat: boat.name,
      state: 'unsettled',
      sort: '-surprise',
      limit: MOST_FINDINGS,
      evidence: 'none',
    })
    const facts: BoatLetterFacts = {
      ...reader,
      why,
      boat: boat.name,
      depletion,
      findings: findings.items,
      nextLift: nextLiftOf(depletion),
      links: { boat: this.#entry(notice), choose: this.#links.choose(subjectOf(notice)) },
    }
    return boatLetter(facts)
  }

  #entry(notice: NoticeRow): string {
    return this.#links.entry({ ...subjectOf(notice), until: addDays(utcDay(this.#now()), OPENS_DAYS) })
  }

  #addressed(notice: NoticeRow, letter: WrittenLetter, language: string): MailMessage {
    const { host } = this.#links
    const unsubscribe = this.#links.unsubscribe({ ...subjectOf(notice), boatId: null })
    return {
      to: notice.email,
      subject: inOneDirection(letter.subject),
      text: inOneDirection(plainText(letter)),
      html: inOneDirection(html(letter, language)),
      pictures: letter.pictures,
      messageId: `notice.${notice.id}@${host}`,
      // All letters about a boat hang on one root, so that mail programs show them together.
      references: [
        `${notice.boatId === null ? notice.kind : `boat.${notice.boatId}`}.${notice.organisationId}@${host}`,
      ],
      headers: {
        'List-Unsubscribe': `<${unsubscribe}>`,
        'List-Unsubscribe-Post': 'List-Unsubscribe=One-Click',
        'List-Id': `<anodes.${notice.organisationId}.${host}>`,
        'Auto-Submitted': 'auto-generated',
        'Content-Language': language,
      },
    }
  }
}

export type Reader = Pick<BoatLetterFacts, 'reading' | 'today' | 'yard' | 'email'>

const inNameOfNotices = ({ organisationId }: NoticeRow) => ({ organisationId, actor: 'notices' })

function subjectOf({ organisationId, email, boatId }: NoticeRow): LinkSubject {
  return { organisationId, email, boatId }
}

/** A name cannot turn round what stands beside it (Unicode, UAX #9: embeddings, overrides and isolates); letters keep their own direction. */
function inOneDirection(text: string): string {
  return text.replace(/[\u202a-\u202e\u2066-\u2069]/g, '')
}
