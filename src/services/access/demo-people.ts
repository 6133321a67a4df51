import { eq, sql } from 'drizzle-orm'
import type { DemoRole } from '../../contract/organisations.js'
import type { Db, Handles } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { anyOrganisation } from '../../db/repositories/organisations.js'
import { boats, members, owners } from '../../db/schema/index.js'
import { NotFound } from '../errors.js'

/** The demo's invented people, one a role, found by what they are in its one organisation. */
export class DemoPeople {
  private readonly db: Db
  private readonly across: Db

  constructor({ db, across }: Handles) {
    this.db = db
    this.across = across
  }

  /** @throws NotFound when the demo's data hold nobody of this role */
  async addressOf(role: DemoRole): Promise<string> {
    const organisation = await anyOrganisation(this.across)
    const email = organisation && (await this.findAddress(organisation.id, role))
    if (!email) throw new NotFound(`a person with the role ${role}`)
    return email.toLowerCase()
  }

  private findAddress(organisationId: string, role: DemoRole): Promise<string | null | undefined> {
    return inOrganisation(this.db, { organisationId, actor: 'demo' }, (tx) =>
      role === 'owner' ? this.owner(tx) : this.member(tx, role),
    )
  }

  private async member(tx: Db, role: DemoRole): Promise<string | undefined> {
    const [row] = await tx
      .select({ email: members.email })
      .from(members)
      .where(eq(members.role, role))
      .orderBy(members.email)
      .limit(1)
    return row?.email
  }

  /** The owner with the most boats: there is more to see. */
  private async owner(tx: Db): Promise<string | null | undefined> {
    const [row] = await tx
      .select({ email: owners.email })
      .from(owners)
      .innerJoin(boats, sql`${boats.organisationId} = ${owners.organisationId} and ${boats.ownerId} = ${owners.id}`)
      .where(sql`${owners.email} is not null`)
      .groupBy(owners.email)
      .orderBy(sql`count(*) desc`, owners.email)
      .limit(1)
    return row?.email
  }
}
