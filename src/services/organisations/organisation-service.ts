import type { OrganisationChange, OrganisationView } from '../../contract/organisations.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  findOrganisation,
  lockOrganisation,
  type OrganisationRow,
  updateOrganisation,
} from '../../db/repositories/organisations.js'
import type { Actor } from '../actor.js'
import { NotFound, Stale } from '../errors.js'
import type { RefitRequests } from '../jobs/refit-requests.js'

/** The organisation's own settings. */
export class OrganisationService {
  private readonly db: Db
  private readonly refits: RefitRequests

  constructor(db: Db, refits: RefitRequests) {
    this.db = db
    this.refits = refits
  }

  get(actor: Actor): Promise<OrganisationView> {
    return inOrganisation(this.db, actor, async (tx) => {
      const row = await findOrganisation(tx, actor.organisationId)
      if (!row) throw new NotFound('the organisation')
      return viewOf(row)
    })
  }

  async change(actor: Actor, version: number, change: OrganisationChange): Promise<OrganisationView> {
    const values = Object.fromEntries(Object.entries(change).filter(([, value]) => value !== undefined))
    return inOrganisation(this.db, actor, async (tx) => {
      const row = await lockOrganisation(tx, actor.organisationId)
      if (!row) throw new NotFound('the organisation')
      if (row.version !== version) throw new Stale('the organisation')
      if (Object.keys(values).length === 0) return viewOf(row)
      const changed = await updateOrganisation(tx, row.id, values)
      // The threshold moves every replacement date; the rate of false discoveries decides what is a finding.
      if (changed.wastingThreshold !== row.wastingThreshold || changed.falseDiscoveryRate !== row.falseDiscoveryRate)
        await this.refits.request(tx, actor)
      return viewOf(changed)
    })
  }
}

function viewOf(row: OrganisationRow): OrganisationView {
  const { id, name, wastingThreshold, falseDiscoveryRate, version } = row
  return { id, name, wastingThreshold, falseDiscoveryRate, createdAt: new Date(row.createdAt).toISOString(), version }
}
