import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { findBoat } from '../../db/repositories/boats.js'
import type { MembershipService } from '../access/memberships.js'
import type { SignIn } from '../access/sign-in.js'
import { utcDay } from '../dates/not-in-future.js'
import { NotFound } from '../errors.js'
import type { LetterLinks } from './letter-links.js'

/** Where a letter's link leads, and the cookies of a session where it signs its reader in. */
export interface Opened {
  /** A path of the app. */
  readonly page: string
  readonly cookies: readonly string[]
}

/** Opens the owner's page from a letter, signed in. */
export class LetterEntry {
  readonly #db: Db
  readonly #links: LetterLinks
  readonly #access: { readonly signIn: SignIn; readonly memberships: MembershipService }
  readonly #now: () => Date

  constructor(
    db: Db,
    links: LetterLinks,
    access: { readonly signIn: SignIn; readonly memberships: MembershipService },
    now: () => Date,
  ) {
    this.#db = db
    this.#links = links
    this.#access = access
    this.#now = now
  }

  /**
   * Signs in whoever is an owner and nothing else: letters are forwarded, and who works with a fleet may change it. An old letter and a
   * colleague's lead to the same page, which asks for a sign-in.
   *
   * @throws NotFound for a link that was not made here, or whose boat is gone
   */
  async open(token: string, userAgent: string): Promise<Opened> {
    const entry = this.#links.readEntry(token)
    if (entry === null) throw new NotFound('the letter')
    const { organisationId, email, boatId, until } = entry
    const memberships = await this.#access.memberships.ofAddress(email)
    const isOwner = memberships.some((one) => one.organisationId === organisationId && one.role === 'owner')
    const isNothingElse = memberships.every(({ role }) => role === 'owner')
    if (!isOwner || !isNothingElse) return { page: await this.#pageOfBoat(organisationId, boatId), cookies: [] }
    const page = boatId === null ? '/yours' : `/yours#boat-${boatId}`
    if (utcDay(this.#now()) > until) return { page, cookies: [] }
    return { page, cookies: await this.#access.signIn.cookiesOf(email, userAgent, { byLetter: true }) }
  }

  async #pageOfBoat(organisationId: string, boatId: string | null): Promise<string> {
    if (boatId === null) return '/'
    const boat = await inOrganisation(this.#db, { organisationId, actor: 'letter' }, (tx) =>
      findBoat(tx, { organisationId }, boatId),
    )
    if (boat === undefined) throw new NotFound('the boat')
    return `/boats/${encodeURIComponent(boat.name)}`
  }
}
