import type { GalvanicAuditView } from '../../contract/galvanic.js'
import { isMetal } from '../../contract/metals.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { type GalvanicRecords, readGalvanicRecords } from '../../db/repositories/galvanic-records.js'
import { auditGalvanics } from '../../engine/galvanic/audit.js'
import type { GalvanicBoat } from '../../engine/galvanic/boat-metals.js'
import type { Actor } from '../actor.js'
import { visibleBoat } from '../fleet/visible.js'
import { auditView } from './audit-view.js'

/** The galvanic audit of a boat, computed from what is on record as of today. */
export class GalvanicService {
  readonly #db: Db
  readonly #today: () => string

  /** @param today the server's day in UTC */
  constructor(db: Db, today: () => string) {
    this.#db = db
    this.#today = today
  }

  /** @throws NotFound */
  async audit(actor: Actor, boatName: string): Promise<GalvanicAuditView> {
    const { boat, records } = await inOrganisation(this.#db, actor, async (tx) => {
      const boat = await visibleBoat(tx, actor, boatName)
      return { boat, records: await readGalvanicRecords(tx, actor.organisationId, boat.id, this.#today()) }
    })
    const { hull, berth } = records
    const audit = auditGalvanics(galvanicBoatOf(records))
    return { boat: boat.name, berth: berth?.name ?? null, water: berth?.water ?? null, hull, ...auditView(audit) }
  }
}

function galvanicBoatOf({ hull, berth, fittings, anodes, continuity, potentials }: GalvanicRecords): GalvanicBoat {
  return {
    hull,
    water: berth?.water ?? null,
    fittings: fittings.map(({ name, metal, areaCm2, coated, bonded }) => ({
      fitting: name,
      metal: metal !== null && isMetal(metal) ? metal : null,
      areaCm2,
      coated,
      bonded,
    })),
    anodes: anodes.map(({ name, alloy, bonded }) => ({ anode: name, alloy, bonded })),
    continuity: continuity.map(({ measuredAt, fromName, toName, ohms }) => ({
      at: measuredAt,
      from: fromName,
      to: toName,
      ohms,
    })),
    potentials: potentials.map(({ measuredAt, ...reading }) => ({ at: measuredAt, ...reading })),
  }
}
