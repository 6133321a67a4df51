import type { BerthChange, BerthQuery, BerthView, NewBerth } from '../../contract/berths.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  type BerthKey,
  berthHasStays,
  deleteBerth,
  findBerth,
  insertBerth,
  lockBerth,
  pageOfBerths,
  pontoonIdFor,
  readBerth,
  removePontoonWithoutBerths,
  updateBerth,
} from '../../db/repositories/berths.js'
import type { Actor } from '../actor.js'
import { Conflict } from '../errors.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { expectVersion } from './expect-version.js'
import { found } from './visible.js'

/** Berths, and the pontoons they lie on. */
export class BerthService {
  readonly #db: Db
  readonly #refits: RefitRequests

  constructor(db: Db, refits: RefitRequests) {
    this.#db = db
    this.#refits = refits
  }

  page(actor: Actor, query: BerthQuery): Promise<Page<BerthView>> {
    return inOrganisation(this.#db, actor, (tx) => pageOfBerths(tx, actor, query))
  }

  read(actor: Actor, berth: string): Promise<BerthView> {
    return inOrganisation(this.#db, actor, async (tx) => found(await readBerth(tx, actor, berth), `berth ${berth}`))
  }

  create(actor: Actor, { pontoon = null, ...details }: NewBerth): Promise<BerthView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const pontoonId = pontoon === null ? null : await pontoonIdFor(tx, actor.organisationId, pontoon)
      const id = await insertBerth(tx, actor.organisationId, { ...details, pontoonId })
      return this.#changed(tx, actor, id)
    })
  }

  /** @throws NotFound, Stale */
  change(actor: Actor, berth: string, expectedVersion: number, change: BerthChange): Promise<BerthView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const before = await this.#lock(tx, actor, berth, expectedVersion)
      const { pontoon, ...details } = change
      const pontoonId = await this.#pontoonAfter(tx, actor, before, pontoon)
      await updateBerth(tx, actor.organisationId, before.id, { ...details, pontoonId })
      await this.#forgetPontoon(tx, actor, before, pontoonId)
      return this.#changed(tx, actor, before.id)
    })
  }

  /**
   * Removes a berth that no stay speaks of: the history of a boat never loses where it lay.
   *
   * @throws NotFound, Stale, Conflict
   */
  async remove(actor: Actor, berth: string, expectedVersion: number): Promise<void> {
    await inOrganisation(this.#db, actor, async (tx) => {
      const before = await this.#lock(tx, actor, berth, expectedVersion)
      if (await berthHasStays(tx, actor.organisationId, before.id)) {
        throw new Conflict(`boats have stayed at berth ${before.name}; a berth with stays is not removed`)
      }
      await deleteBerth(tx, actor.organisationId, before.id)
      await this.#forgetPontoon(tx, actor, before, null)
      await this.#refits.request(tx, actor)
    })
  }

  async #lock(tx: Db, actor: Actor, berth: string, expectedVersion: number): Promise<BerthKey> {
    const { id } = found(await findBerth(tx, actor, berth), `berth ${berth}`)
    expectVersion(`berth ${berth}`, await lockBerth(tx, actor.organisationId, id), expectedVersion)
    return found(await findBerth(tx, actor, id), `berth ${berth}`)
  }

  async #pontoonAfter(
    tx: Db,
    actor: Actor,
    before: BerthKey,
    pontoon: string | null | undefined,
  ): Promise<string | null> {
    if (pontoon === undefined) return before.pontoonId
    return pontoon === null ? null : pontoonIdFor(tx, actor.organisationId, pontoon)
  }

  async #forgetPontoon(tx: Db, actor: Actor, before: BerthKey, pontoonIdNow: string | null): Promise<void> {
    if (before.pontoonId === null || before.pontoonId === pontoonIdNow) return
    await removePontoonWithoutBerths(tx, actor.organisationId, before.pontoonId)
  }

  async #changed(tx: Db, actor: Actor, id: string): Promise<BerthView> {
    await this.#refits.request(tx, actor)
    return found(await readBerth(tx, actor, id), `berth ${id}`)
  }
}
