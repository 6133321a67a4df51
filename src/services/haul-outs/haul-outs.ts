import type {
  HaulOutChange,
  HaulOutDetail,
  HaulOutQuery,
  HaulOutView,
  LoggedHaulOut,
  NewHaulOut,
} from '../../contract/haul-outs.js'
import type { Page } from '../../contract/paging.js'
import type { WebhookEvent } from '../../contract/webhooks.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { lockBoat, lockMeantBoat } from '../../db/repositories/boats.js'
import {
  countWeighings,
  deleteHaulOut,
  findHaulOut,
  type HaulOutRecord,
  haulOutView,
  lockHaulOut,
  pageOfHaulOuts,
  replacedOnDay,
  updateHaulOut,
} from '../../db/repositories/haul-outs.js'
import { weighingsOfHaulOut } from '../../db/repositories/weighings.js'
import type { Actor } from '../actor.js'
import { merged } from '../anodes/merged.js'
import { Conflict, Invalid } from '../errors.js'
import { expectVersion } from '../fleet/expect-version.js'
import { found, visibleBoat } from '../fleet/visible.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { emitWebhookEvent } from '../webhooks/emit.js'
import { weighingView } from '../weighings/weighing-view.js'
import { dateFaults } from './haul-out-faults.js'
import { writeLift } from './write-lift.js'

/** Lifts, past and planned, and what was done at each. */
export class HaulOutService {
  readonly #db: Db
  readonly #refits: RefitRequests
  readonly #today: () => string

  /** @param today the server's day in UTC */
  constructor(db: Db, refits: RefitRequests, today: () => string) {
    this.#db = db
    this.#refits = refits
    this.#today = today
  }

  page(actor: Actor, query: HaulOutQuery): Promise<Page<HaulOutView>> {
    return inOrganisation(this.#db, actor, (tx) => pageOfHaulOuts(tx, actor, query))
  }

  /** @throws NotFound for a boat that the asker cannot see, where `page` would give an empty list */
  pageOfBoat(actor: Actor, boat: string, query: HaulOutQuery): Promise<Page<HaulOutView>> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await visibleBoat(tx, actor, boat)
      return pageOfHaulOuts(tx, actor, { ...query, boat: id })
    })
  }

  /** @throws NotFound */
  read(actor: Actor, id: string): Promise<HaulOutDetail> {
    return inOrganisation(this.#db, actor, async (tx) =>
      detailOf(tx, actor, found(await findHaulOut(tx, actor, id), 'the haul-out')),
    )
  }

  /**
   * Logs a lift: hauled, each anode weighed or replaced, relaunched; all of it or nothing. A second log of the same day
   * adds its anodes to the first; one that says the same changes nothing.
   *
   * @returns the haul-out with its weighings, and whether it is new
   * @throws NotFound, Invalid with every field that cannot be, Conflict when somebody logged something else that day
   */
  create(actor: Actor, boat: string, lift: NewHaulOut): Promise<{ haulOut: LoggedHaulOut; isNew: boolean }> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id: boatId, name } = found(await lockMeantBoat(tx, actor, boat), `boat ${boat}`)
      const written = await writeLift(tx, actor, { boatId, boat: name, lift, today: this.#today() })
      const refit = written.changed ? await this.#refits.request(tx, actor) : null
      const haulOut = await detailOf(tx, actor, { id: written.id, boatId, hauledOn: lift.hauledOn })
      if (written.changed) await tell(tx, actor, 'haul-out.recorded', haulOut)
      return { haulOut: { ...haulOut, refit }, isNew: written.isNew }
    })
  }

  /** @throws NotFound, Stale, Invalid, Conflict */
  change(actor: Actor, id: string, version: number, change: HaulOutChange): Promise<HaulOutDetail> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const stored = await this.#locked(tx, actor, id, version)
      const wanted = merged(stored, change)
      const faults = dateFaults(wanted, this.#today())
      if (faults.length > 0) throw new Invalid(faults)
      if (wanted.hauledOn !== stored.hauledOn) await refuseIfWeighed(tx, actor, stored, 'its day cannot change')
      await updateHaulOut(tx, actor.organisationId, id, change)
      await this.#refits.request(tx, actor)
      const haulOut = await detailOf(tx, actor, { ...wanted, id })
      await tell(tx, actor, 'haul-out.changed', haulOut)
      return haulOut
    })
  }

  /** Deletes a plan that fell through, or a lift logged by mistake; one with weighings stays. @throws NotFound, Stale, Conflict */
  delete(actor: Actor, id: string, version: number): Promise<void> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const stored = await this.#locked(tx, actor, id, version)
      await refuseIfWeighed(tx, actor, stored, 'it cannot be deleted')
      await deleteHaulOut(tx, actor.organisationId, id)
      await this.#refits.request(tx, actor)
      await tell(tx, actor, 'haul-out.deleted', haulOutView(stored))
    })
  }

  async #locked(tx: Db, actor: Actor, id: string, version: number): Promise<HaulOutRecord> {
    const { boatId } = found(await findHaulOut(tx, actor, id), 'the haul-out')
    await lockBoat(tx, actor.organisationId, boatId)
    expectVersion('the haul-out', await lockHaulOut(tx, actor.organisationId, id), version)
    return found(await findHaulOut(tx, actor, id), 'the haul-out')
  }
}

async function detailOf(
  db: Db,
  actor: Actor,
  haulOut: Pick<HaulOutRecord, 'id' | 'boatId' | 'hauledOn'>,
): Promise<HaulOutDetail> {
  const { organisationId } = actor
  const [record, weighings, replaced] = await Promise.all([
    findHaulOut(db, actor, haulOut.id),
    weighingsOfHaulOut(db, organisationId, haulOut),
    replacedOnDay(db, organisationId, haulOut.boatId, haulOut.hauledOn),
  ])
  return { ...haulOutView(found(record, 'the haul-out')), weighings: weighings.map(weighingView), replaced }
}

function tell(tx: Db, { organisationId }: Actor, event: WebhookEvent, haulOut: HaulOutView): Promise<void> {
  return emitWebhookEvent(tx, organisationId, { event, data: haulOut })
}

async function refuseIfWeighed(tx: Db, actor: Actor, { id, hauledOn }: HaulOutRecord, so: string): Promise<void> {
  const weighings = await countWeighings(tx, actor.organisationId, id)
  if (weighings === 0) return
  const detail = `the haul-out on ${hauledOn} has weighings (${weighings}), so ${so}: correct or delete these first`
  throw new Conflict(detail, 'has-weighings')
}
