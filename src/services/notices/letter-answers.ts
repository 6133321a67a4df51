import type { NewHaulOut } from '../../contract/haul-outs.js'
import type { LetterAction, LetterLinkView } from '../../contract/notices.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { findBoat } from '../../db/repositories/boats.js'
import { findOrganisation } from '../../db/repositories/organisations.js'
import {
  readReminderSettings,
  setAddressLead,
  setAddressStopped,
  setBoatReminder,
  silentAddresses,
} from '../../db/repositories/reminders.js'
import type { Actor } from '../actor.js'
import { calendarDay } from '../dates/day-numbers.js'
import { latestAcceptedDay, utcDay } from '../dates/not-in-future.js'
import { type FieldError, Invalid, NotFound } from '../errors.js'
import type { HaulOutService } from '../haul-outs/haul-outs.js'
import { boatCases } from './boat-cases.js'
import type { LetterLinks, LinkSubject } from './letter-links.js'

/** What readers of letters answer by their links, without signing in: later, done already, no more. */
export class LetterAnswers {
  readonly #db: Db
  readonly #links: LetterLinks
  readonly #haulOuts: HaulOutService
  readonly #now: () => Date

  constructor(db: Db, links: LetterLinks, haulOuts: HaulOutService, now: () => Date) {
    this.#db = db
    this.#links = links
    this.#haulOuts = haulOuts
    this.#now = now
  }

  /** @throws NotFound for a link that was not made here, or whose boat is not its reader's any more */
  read(token: string): Promise<LetterLinkView> {
    const subject = this.#subject(token)
    return inOrganisation(this.#db, this.#actor(subject), (tx) => this.#viewOf(tx, subject))
  }

  async #viewOf(tx: Db, subject: LinkSubject): Promise<LetterLinkView> {
    const { organisationId, email, boatId } = subject
    const yard = await findOrganisation(tx, organisationId)
    if (yard === undefined) throw new NotFound('the letter')
    const { leadDays: usual } = await readReminderSettings(tx, organisationId)
    if (boatId === null) {
      const isStopped = (await silentAddresses(tx, organisationId)).has(email)
      const rest = { boat: null, boatId: null, snoozedUntil: null, leadDays: usual, anodes: [] }
      return { organisation: yard.name, email, isStopped, ...rest }
    }
    const boat = await this.#ownBoat(tx, subject)
    const [known] = await boatCases(tx, organisationId, boat.id)
    return {
      organisation: yard.name,
      email,
      boat: boat.name,
      boatId: boat.id,
      isStopped: known?.isStopped ?? false,
      snoozedUntil: known?.snoozedUntil ?? null,
      leadDays: known?.leadDays ?? usual,
      anodes: (known?.anodes ?? []).map(({ key, name, position, recommendedOn }) => ({
        id: key,
        anode: name,
        position,
        recommendedOn: recommendedOn === null ? null : calendarDay(recommendedOn),
      })),
    }
  }

  /** @throws NotFound, Invalid, and what a haul-out is refused for */
  async answer(token: string, answer: LetterAction): Promise<LetterLinkView> {
    const subject = this.#subject(token)
    const { organisationId, email, boatId } = subject
    if (boatId === null) {
      if (answer.action !== 'stop' && answer.action !== 'resume')
        throw new Invalid([{ pointer: '#/action', detail: 'a link about all letters can only stop or resume them' }])
      await this.#setStopped(subject, answer.action === 'stop')
      return this.read(token)
    }
    const actor = this.#actor(subject)
    const boat = await inOrganisation(this.#db, actor, (tx) => this.#ownBoat(tx, subject))
    switch (answer.action) {
      case 'snooze':
        await inOrganisation(this.#db, actor, (tx) =>
          setBoatReminder(tx, organisationId, boat.id, { snoozedUntil: answer.until }),
        )
        break
      case 'stop':
      case 'resume':
        await inOrganisation(this.#db, actor, (tx) =>
          setBoatReminder(tx, organisationId, boat.id, {
            stoppedAt: this.#stoppedAt(answer.action === 'stop'),
            snoozedUntil: null,
          }),
        )
        // Whoever asks for letters again wants them.
        if (answer.action === 'resume') await this.#setStopped(subject, false)
        break
      case 'lead':
        await inOrganisation(this.#db, actor, (tx) => setAddressLead(tx, organisationId, email, answer.leadDays))
        break
      case 'done':
        await this.#logReplaced(actor, boat.id, answer)
        break
    }
    return this.read(token)
  }

  /** Replaced by their like, as most are; the yard's record can be mended by the yard. */
  async #logReplaced(actor: Actor, boatId: string, { on, anodes }: Extract<LetterAction, { action: 'done' }>) {
    if (on > latestAcceptedDay(utcDay(this.#now())))
      throw new Invalid([{ pointer: '#/on', detail: `${on} lies in the future: give the day on which it was done` }])
    const [known] = await inOrganisation(this.#db, actor, (tx) => boatCases(tx, actor.organisationId, boatId))
    const lift: NewHaulOut = {
      hauledOn: on,
      weighings: anodes.map(({ id, massG }) => ({
        anode: id,
        method: 'scale',
        ...(massG !== null && { massG }),
        replacedBy: { alloy: known?.anodes.find(({ key }) => key === id)?.alloy ?? null },
      })),
    }
    await this.#haulOuts.create(actor, boatId, lift).catch((error: unknown) => {
      throw error instanceof Invalid ? new Invalid(error.errors.map(inWordsOfAnswer)) : error
    })
  }

  /** One click of a mail program (RFC 8058): all letters to the address end. */
  async unsubscribe(token: string): Promise<void> {
    await this.#setStopped(this.#subject(token), true)
  }

  async #setStopped({ organisationId, email }: LinkSubject, isStopped: boolean): Promise<void> {
    const acting = { organisationId, actor: `person:${email}` }
    await inOrganisation(this.#db, acting, (tx) =>
      setAddressStopped(tx, organisationId, email, this.#stoppedAt(isStopped)),
    )
  }

  #stoppedAt(isStopped: boolean): string | null {
    return isStopped ? this.#now().toISOString() : null
  }

  #subject(token: string): LinkSubject {
    const subject = this.#links.read(token)
    if (subject === null) throw new NotFound('the letter')
    return subject
  }

  #actor({ organisationId, email }: LinkSubject): Actor {
    return {
      organisationId,
      actor: `person:${email}`,
      reason: 'said in answer to a letter',
      role: 'owner',
      ownerEmail: email,
    }
  }

  async #ownBoat(tx: Db, subject: LinkSubject) {
    const boat = await findBoat(tx, this.#actor(subject), subject.boatId!)
    if (boat === undefined) throw new NotFound('the boat')
    return boat
  }
}

/** A fault of the haul-out, at the field of the answer that it came from. */
function inWordsOfAnswer({ pointer, ...rest }: FieldError): FieldError {
  const named = pointer.replace(/^#\/weighings/, '#/anodes').replace(/^#\/hauledOn$/, '#/on')
  return { ...rest, pointer: named.replace(/\/anode$/, '/id') }
}
