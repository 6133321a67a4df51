import type { BoatChange, BoatQuery, BoatView, NewBoat } from '../../contract/boats.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  type BoatKey,
  deleteBoat,
  insertBoat,
  lockBoat,
  pageOfBoats,
  readBoat,
  updateBoat,
} from '../../db/repositories/boats.js'
import { ownerIdFor, removeOwnerWithoutBoats } from '../../db/repositories/owners.js'
import type { Actor } from '../actor.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { expectVersion } from './expect-version.js'
import { found, visibleBoat } from './visible.js'

/** Boats and who owns them. */
export class BoatService {
  readonly #db: Db
  readonly #refits: RefitRequests
  readonly #today: () => string

  /** @param today the server's day in UTC: where a boat lies is told as of today */
  constructor(db: Db, refits: RefitRequests, today: () => string) {
    this.#db = db
    this.#refits = refits
    this.#today = today
  }

  page(actor: Actor, query: BoatQuery): Promise<Page<BoatView>> {
    return inOrganisation(this.#db, actor, (tx) => pageOfBoats(tx, actor, this.#today(), query))
  }

  read(actor: Actor, boat: string): Promise<BoatView> {
    return inOrganisation(this.#db, actor, async (tx) =>
      found(await readBoat(tx, actor, this.#today(), boat), `boat ${boat}`),
    )
  }

  create(actor: Actor, { ownerName = null, ownerEmail = null, ...details }: NewBoat): Promise<BoatView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const ownerId = await ownerIdFor(tx, actor.organisationId, { name: ownerName, email: ownerEmail })
      const id = await insertBoat(tx, actor.organisationId, { ...details, ownerId })
      return this.#changed(tx, actor, id)
    })
  }

  /** @throws NotFound, Stale */
  change(actor: Actor, boat: string, expectedVersion: number, change: BoatChange): Promise<BoatView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const before = await this.#lock(tx, actor, boat, expectedVersion)
      const { ownerName, ownerEmail, ...details } = change
      const ownerId = await this.#ownerAfter(tx, actor, before, { ownerName, ownerEmail })
      await updateBoat(tx, actor.organisationId, before.id, { ...details, ownerId })
      await this.#forgetOwner(tx, actor, before, ownerId)
      return this.#changed(tx, actor, before.id)
    })
  }

  /**
   * Removes a boat and whatever was logged of it: stays, fittings, anodes, haul-outs, weighings, readings. The audit
   * trail keeps each row as it was.
   *
   * @throws NotFound, Stale
   */
  async remove(actor: Actor, boat: string, expectedVersion: number): Promise<void> {
    await inOrganisation(this.#db, actor, async (tx) => {
      const before = await this.#lock(tx, actor, boat, expectedVersion)
      await deleteBoat(tx, actor.organisationId, before.id)
      await this.#forgetOwner(tx, actor, before, null)
      await this.#refits.request(tx, actor)
    })
  }

  async #lock(tx: Db, actor: Actor, boat: string, expectedVersion: number): Promise<BoatKey> {
    const { id } = await visibleBoat(tx, actor, boat)
    expectVersion(`boat ${boat}`, await lockBoat(tx, actor.organisationId, id), expectedVersion)
    return visibleBoat(tx, actor, id)
  }

  /** A change may name one half of (name, e-mail): the other half stays as it was. */
  async #ownerAfter(
    tx: Db,
    actor: Actor,
    before: BoatKey,
    change: Pick<BoatChange, 'ownerName' | 'ownerEmail'>,
  ): Promise<string | null> {
    if (change.ownerName === undefined && change.ownerEmail === undefined) return before.ownerId
    const now = found(await readBoat(tx, actor, this.#today(), before.id), `boat ${before.name}`)
    return ownerIdFor(tx, actor.organisationId, {
      name: change.ownerName === undefined ? now.ownerName : change.ownerName,
      email: change.ownerEmail === undefined ? now.ownerEmail : change.ownerEmail,
    })
  }

  async #forgetOwner(tx: Db, actor: Actor, before: BoatKey, ownerIdNow: string | null): Promise<void> {
    if (before.ownerId === null || before.ownerId === ownerIdNow) return
    await removeOwnerWithoutBoats(tx, actor.organisationId, before.ownerId)
  }

  async #changed(tx: Db, actor: Actor, id: string): Promise<BoatView> {
    await this.#refits.request(tx, actor)
    return found(await readBoat(tx, actor, this.#today(), id), `boat ${id}`)
  }
}
