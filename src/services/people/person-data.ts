import { randomBytes } from 'node:crypto'
import type { PersonAsked, PersonData, PersonForgotten, PersonToForget } from '../../contract/people.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { addressOfAlias, FORGETTING, forgetPerson, recordsOfPerson } from '../../db/repositories/people.js'
import type { Actor } from '../actor.js'
import { Invalid } from '../errors.js'
import { keepingAnAdministrator } from '../organisations/administrators.js'

const ALIAS_BYTES = 4

/** What an organisation has on record of a person, and the way to forget them without a hole in the record. */
export class PersonDataService {
  readonly #db: Db
  readonly #now: () => Date

  constructor(db: Db, now: () => Date) {
    this.#db = db
    this.#now = now
  }

  /** Empty where nobody of this address is on record. */
  read(actor: Actor, { email }: PersonAsked): Promise<PersonData> {
    const { organisationId } = actor
    return inOrganisation(this.#db, actor, async (tx) => {
      const { letters, ...records } = await recordsOfPerson(tx, { organisationId, email })
      const instant = (at: string | null) => at && new Date(at).toISOString()
      return { email, ...records, letters: letters.map((letter) => ({ ...letter, sentAt: instant(letter.sentAt) })) }
    })
  }

  /**
   * Takes name and address out of all that the organisation has; boats, weighings, findings and who did what after whom stay, under an alias.
   *
   * @throws Invalid where the address is not confirmed, Conflict for the last administrator
   */
  forget(actor: Actor, { email, confirm }: PersonToForget): Promise<PersonForgotten> {
    if (email !== confirm) throw new Invalid([{ pointer: '#/confirm', detail: 'confirm: it is not the same address' }])
    const alias = `forgotten-${randomBytes(ALIAS_BYTES).toString('hex')}`
    // Whoever forgets themselves must not be named by it anew.
    const by = actor.actor === `person:${email}` ? `person:${addressOfAlias(alias)}` : actor.actor
    const acting = { ...actor, actor: by, reason: FORGETTING }
    return inOrganisation(this.#db, acting, async (tx) => {
      const changed = await keepingAnAdministrator(tx, actor.organisationId, this.#now(), () =>
        forgetPerson(tx, { email, alias }),
      )
      return { alias, changed }
    })
  }
}
