import type { MembershipView } from '../../contract/access.js'
import type { Db, Handles } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { membershipsOf, membershipsToLink, organisationsOfOwner, setMemberUser } from '../../db/repositories/members.js'

export type Membership = MembershipView

/** Where a person may go, by their address: as a member, or as a boat's owner. */
export class MembershipService {
  private readonly db: Db
  private readonly across: Db

  constructor({ db, across }: Handles) {
    this.db = db
    this.across = across
  }

  /** A member's role goes before the ownership of a boat in the same organisation. */
  async ofAddress(address: string): Promise<Membership[]> {
    const email = address.toLowerCase()
    const asMember = await membershipsOf(this.across, email)
    const asOwner = await organisationsOfOwner(this.across, email)
    const known = new Set(asMember.map((one) => one.organisationId))
    const owned = asOwner.filter((one) => !known.has(one.organisationId))
    return [
      ...asMember,
      ...owned.map(({ organisationId, organisation }) => ({ organisationId, organisation, role: 'owner' as const })),
    ]
  }

  /** Notes, at a sign-in, which user stands behind the invitations to this address. */
  async link(address: string, userId: string): Promise<void> {
    const email = address.toLowerCase()
    for (const member of await membershipsToLink(this.across, email, userId)) {
      const acting = { organisationId: member.organisationId, actor: `person:${email}` }
      await inOrganisation(this.db, acting, (tx) => setMemberUser(tx, member, userId))
    }
  }
}
