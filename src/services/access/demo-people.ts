import { eq, sql } from 'drizzle-orm'
import type { DemoRole } from '../../contract/organisations.js'
import type { Db } from '../../db/client.js'
import { boats, members, owners } from '../../db/schema/index.js'
import { NotFound } from '../errors.js'

/** The demo's invented people, one a role, found by what they are in its one organisation. */
export class DemoPeople {
  private readonly db: Db

  constructor(db: Db) {
    this.db = db
  }

  /** @throws NotFound when the demo's data hold nobody of this role */
  async addressOf(role: DemoRole): Promise<string> {
    const email = role === 'owner' ? await this.owner() : await this.member(role)
    if (!email) throw new NotFound(`a person with the role ${role}`)
    return email.toLowerCase()
  }

  private async member(role: DemoRole): Promise<string | undefined> {
    const [row] = await this.db
      .select({ email: members.email })
      .from(members)
      .where(eq(members.role, role))
      .orderBy(members.email)
      .limit(1)
    return row?.email
  }

  /** The owner with the most boats: there is more to see. */
  private async owner(): Promise<string | null | undefined> {
    const [row] = await this.db
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
