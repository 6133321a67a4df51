import type { FittingChange, FittingQuery, FittingView, NewFitting } from '../../contract/fittings.js'
import type { MetalView } from '../../contract/metals.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  deleteFitting,
  insertFitting,
  lockFitting,
  pageOfFittings,
  readFitting,
  updateFitting,
} from '../../db/repositories/fittings.js'
import { GALVANIC_SERIES } from '../../engine/reference/galvanic-series.js'
import type { Actor } from '../actor.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { expectVersion } from './expect-version.js'
import { found, visibleBoat } from './visible.js'

/** The underwater metal of a boat. */
export class FittingService {
  readonly #db: Db
  readonly #refits: RefitRequests

  constructor(db: Db, refits: RefitRequests) {
    this.#db = db
    this.#refits = refits
  }

  /** The metals that a fitting can be of. */
  metals(): { items: MetalView[] } {
    return {
      items: GALVANIC_SERIES.map(({ key, name, group, state, lowVSce, highVSce, status, note }) => ({
        key,
        name,
        group,
        state: state ?? null,
        lowVSce,
        highVSce,
        status,
        note,
      })),
    }
  }

  page(actor: Actor, boat: string, query: FittingQuery): Promise<Page<FittingView>> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await visibleBoat(tx, actor, boat)
      return pageOfFittings(tx, actor.organisationId, id, query)
    })
  }

  read(actor: Actor, boat: string, fitting: string): Promise<FittingView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await visibleBoat(tx, actor, boat)
      return found(await readFitting(tx, actor.organisationId, id, fitting), `fitting ${fitting}`)
    })
  }

  create(actor: Actor, boat: string, fitting: NewFitting): Promise<FittingView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id: boatId } = await visibleBoat(tx, actor, boat)
      const id = await insertFitting(tx, actor.organisationId, boatId, fitting)
      return this.#changed(tx, actor, boatId, id)
    })
  }

  /** @throws NotFound, Stale */
  change(
    actor: Actor,
    boat: string,
    fitting: string,
    expectedVersion: number,
    change: FittingChange,
  ): Promise<FittingView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { boatId, id } = await this.#lock(tx, actor, boat, fitting, expectedVersion)
      await updateFitting(tx, actor.organisationId, id, change)
      return this.#changed(tx, actor, boatId, id)
    })
  }

  /**
   * Removes a fitting with the potentials read on it; the audit trail keeps them.
   *
   * @throws NotFound, Stale
   */
  async remove(actor: Actor, boat: string, fitting: string, expectedVersion: number): Promise<void> {
    await inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await this.#lock(tx, actor, boat, fitting, expectedVersion)
      await deleteFitting(tx, actor.organisationId, id)
      await this.#refits.request(tx, actor)
    })
  }

  async #lock(tx: Db, actor: Actor, boat: string, fitting: string, expectedVersion: number) {
    const { id: boatId } = await visibleBoat(tx, actor, boat)
    const what = `fitting ${fitting}`
    const { id } = found(await readFitting(tx, actor.organisationId, boatId, fitting), what)
    expectVersion(what, await lockFitting(tx, actor.organisationId, id), expectedVersion)
    return { boatId, id }
  }

  async #changed(tx: Db, actor: Actor, boatId: string, id: string): Promise<FittingView> {
    await this.#refits.request(tx, actor)
    return found(await readFitting(tx, actor.organisationId, boatId, id), 'the fitting')
  }
}
