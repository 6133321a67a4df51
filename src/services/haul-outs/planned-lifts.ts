import type {
  NewPlannedLifts,
  PlannedLifts,
  PlannedLiftsRemoved,
  PlannedLiftsToRemove,
} from '../../contract/planned-lifts.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { lockBoat } from '../../db/repositories/boats.js'
import {
  countWeighings,
  deleteHaulOut,
  findHaulOut,
  type HaulOutRecord,
  haulOutView,
  lockHaulOut,
} from '../../db/repositories/haul-outs.js'
import type { Actor } from '../actor.js'
import { type FieldError, Invalid, NotFound } from '../errors.js'
import { found, visibleBoat } from '../fleet/visible.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { emitWebhookEvent } from '../webhooks/emit.js'
import { writeLift } from './write-lift.js'

interface PlannedLift {
  readonly boatId: string
  readonly boat: string
  readonly on: string
}

/** Many lifts put into the calendar at once, as a plan of the desk has them, and taken out again. */
export class PlannedLiftService {
  readonly #db: Db
  readonly #refits: RefitRequests
  readonly #today: () => string

  /** @param today the server's day in UTC */
  constructor(db: Db, refits: RefitRequests, today: () => string) {
    this.#db = db
    this.#refits = refits
    this.#today = today
  }

  /** @throws Invalid naming each lift that cannot be; then none is written */
  write(actor: Actor, { lifts }: NewPlannedLifts): Promise<PlannedLifts> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const planned = await this.#boatsOf(tx, actor, lifts)
      const written: PlannedLifts['written'] = []
      // In the order of the boats, so that two plans at once do not wait for each other.
      for (const { boatId, boat, on } of planned.toSorted(byBoat)) {
        await lockBoat(tx, actor.organisationId, boatId)
        const lift = { hauledOn: on, planned: true, weighings: [] }
        const { id, isNew } = await writeLift(tx, actor, { boatId, boat, lift, today: this.#today() })
        if (!isNew) continue
        const haulOut = found(await findHaulOut(tx, actor, id), 'the haul-out')
        await emitWebhookEvent(tx, actor.organisationId, { event: 'haul-out.recorded', data: haulOutView(haulOut) })
        written.push({ id, boat, on, version: haulOut.version })
      }
      const refit = written.length > 0 ? await this.#refits.request(tx, actor) : null
      return { written, present: lifts.length - written.length, refit }
    })
  }

  /** Takes planned lifts out again; what was changed or logged since stays. */
  remove(actor: Actor, { lifts }: PlannedLiftsToRemove): Promise<PlannedLiftsRemoved> {
    const versions = new Map(lifts.map(({ id, version }) => [id, version]))
    return inOrganisation(this.#db, actor, async (tx) => {
      const stored: HaulOutRecord[] = []
      for (const id of versions.keys()) stored.push(...listOf(await findHaulOut(tx, actor, id)))
      const kept: PlannedLiftsRemoved['kept'] = []
      let removed = 0
      for (const haulOut of stored.toSorted(byBoat)) {
        const { id, boatId, boat, hauledOn: on } = haulOut
        await lockBoat(tx, actor.organisationId, boatId)
        const version = await lockHaulOut(tx, actor.organisationId, id)
        const isAsWritten = version === versions.get(id) && haulOut.planned === true
        if (!isAsWritten || (await countWeighings(tx, actor.organisationId, id)) > 0) {
          kept.push({ boat, on })
          continue
        }
        await deleteHaulOut(tx, actor.organisationId, id)
        await emitWebhookEvent(tx, actor.organisationId, { event: 'haul-out.deleted', data: haulOutView(haulOut) })
        removed++
      }
      return { removed, kept, refit: removed > 0 ? await this.#refits.request(tx, actor) : null }
    })
  }

  async #boatsOf(tx: Db, actor: Actor, lifts: NewPlannedLifts['lifts']): Promise<PlannedLift[]> {
    const errors: FieldError[] = []
    const planned: PlannedLift[] = []
    for (const [at, { boat: asked, on }] of lifts.entries()) {
      if (on < this.#today()) {
        errors.push({ pointer: `#/lifts/${at}/on`, detail: `${on} lies behind: a lift can be planned from today on` })
      }
      try {
        const { id, name } = await visibleBoat(tx, actor, asked)
        planned.push({ boatId: id, boat: name, on })
      } catch (error) {
        if (!(error instanceof NotFound)) throw error
        errors.push({ pointer: `#/lifts/${at}/boat`, detail: `there is no boat ${asked}` })
      }
    }
    if (errors.length > 0) throw new Invalid(errors)
    return planned
  }
}

function listOf<Item>(item: Item | undefined): Item[] {
  return item === undefined ? [] : [item]
}

function byBoat(a: { readonly boatId: string }, b: { readonly boatId: string }): number {
  return a.boatId < b.boatId ? -1 : a.boatId > b.boatId ? 1 : 0
}
