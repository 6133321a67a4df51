import type { AnodeChange, AnodeQuery, AnodeView, NewAnode } from '../../contract/anodes.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  type AnodeRecord,
  anodesOfBoat,
  deleteAnode,
  findAnode,
  insertAnode,
  lockAnode,
  pageOfAnodes,
  readAnode,
  updateAnode,
} from '../../db/repositories/anodes.js'
import { lockBoat } from '../../db/repositories/boats.js'
import { weighingsOfAnodes } from '../../db/repositories/weighings.js'
import type { Actor } from '../actor.js'
import { Conflict, type FieldError, Invalid } from '../errors.js'
import { expectVersion } from '../fleet/expect-version.js'
import { found, visibleBoat } from '../fleet/visible.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { anodeFaults, faultsBesideWeighings } from './anode-faults.js'
import { merged } from './merged.js'
import { livesOverlap, positionFor } from './position-for.js'

/** Anodes of a fleet: fitted, changed, removed; each at one position, one at a time. */
export class AnodeService {
  readonly #db: Db
  readonly #refits: RefitRequests
  readonly #today: () => string

  /** @param today the server's day in UTC */
  constructor(db: Db, refits: RefitRequests, today: () => string) {
    this.#db = db
    this.#refits = refits
    this.#today = today
  }

  page(actor: Actor, query: AnodeQuery): Promise<Page<AnodeView>> {
    return inOrganisation(this.#db, actor, (tx) => pageOfAnodes(tx, actor, query))
  }

  /** @throws NotFound for a boat that the asker cannot see, where `page` would give an empty list */
  pageOfBoat(actor: Actor, boat: string, query: Omit<AnodeQuery, 'boat'>): Promise<Page<AnodeView>> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await visibleBoat(tx, actor, boat)
      return pageOfAnodes(tx, actor, { ...query, boat: id })
    })
  }

  /** @throws NotFound */
  read(actor: Actor, boat: string, anode: string): Promise<AnodeView> {
    return inOrganisation(this.#db, actor, async (tx) =>
      found(await readAnode(tx, actor, boat, anode), `anode ${anode} of boat ${boat}`),
    )
  }

  /** @throws NotFound, Invalid, Conflict (from the database: a name that the boat has already) */
  create(actor: Actor, boat: string, anode: NewAnode): Promise<AnodeView> {
    const { organisationId } = actor
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id: boatId } = await visibleBoat(tx, actor, boat)
      await lockBoat(tx, organisationId, boatId)
      const { position: label, ...given } = anode
      const { removedOn = null, grossMassG = null, coreMassG = null } = given
      const piece = { ...given, removedOn, grossMassG, coreMassG }
      refuse(anodeFaults(piece, this.#today()))
      const positionId = await positionFor(tx, { organisationId, boatId, label }, piece)
      const id = await insertAnode(tx, organisationId, { ...piece, boatId, positionId })
      return this.#written(tx, actor, boatId, id)
    })
  }

  /** @throws NotFound, Stale, Invalid, Conflict */
  change(actor: Actor, boat: string, anode: string, version: number, change: AnodeChange): Promise<AnodeView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const stored = await lockedAnode(tx, actor, boat, anode, version)
      const wanted = merged(stored, change)
      refuse(anodeFaults(wanted, this.#today()))
      refuse(faultsBesideWeighings(wanted, await weighingsOfAnodes(tx, actor.organisationId, [stored.id])))
      const positionId = await this.#positionOf(tx, stored, wanted)
      const { position: _, ...values } = change
      await updateAnode(tx, actor.organisationId, stored.id, { ...values, positionId })
      return this.#written(tx, actor, stored.boatId, stored.id)
    })
  }

  /** Takes an anode off for good; saying so twice with the same day changes nothing. @throws NotFound, Invalid, Conflict */
  recordRemoval(actor: Actor, boat: string, anode: string, removedOn: string): Promise<AnodeView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const stored = await lockedAnode(tx, actor, boat, anode)
      if (stored.removedOn !== null && stored.removedOn !== removedOn) {
        throw new Conflict(`${stored.name} was removed on ${stored.removedOn} already; change that day instead`)
      }
      const wanted = { ...stored, removedOn }
      refuse(anodeFaults(wanted, this.#today()))
      refuse(faultsBesideWeighings(wanted, await weighingsOfAnodes(tx, actor.organisationId, [stored.id])))
      await updateAnode(tx, actor.organisationId, stored.id, { removedOn })
      return this.#written(tx, actor, stored.boatId, stored.id)
    })
  }

  /** Deletes an anode that was added by mistake. One that was weighed stays. @throws NotFound, Stale, Conflict */
  delete(actor: Actor, boat: string, anode: string, version: number): Promise<void> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const stored = await lockedAnode(tx, actor, boat, anode, version)
      const { length } = await weighingsOfAnodes(tx, actor.organisationId, [stored.id])
      if (length > 0) {
        const detail = `${stored.name} was weighed (${length}): record its removal, or delete its weighings first`
        throw new Conflict(detail, 'has-weighings')
      }
      await deleteAnode(tx, actor.organisationId, stored.id)
      await this.#refits.request(tx, actor)
    })
  }

  /** The position it has, unless it is moved to another; its life must not run into another anode's there. */
  async #positionOf(tx: Db, stored: AnodeRecord, wanted: AnodeRecord): Promise<string> {
    const { organisationId, boatId, id } = stored
    const moves = wanted.position.toLowerCase() !== stored.position.toLowerCase()
    if (moves) return positionFor(tx, { organisationId, boatId, label: wanted.position }, wanted, id)
    const all = await anodesOfBoat(tx, organisationId, boatId)
    const other = all.find((one) => one.positionId === stored.positionId && one.id !== id && livesOverlap(one, wanted))
    if (!other) return stored.positionId
    const life = `from ${other.fittedOn ?? 'an unknown day'} to ${other.removedOn ?? 'now'}`
    throw new Conflict(
      `${other.name} sits at ${other.position} ${life}: two cannot be there at a time`,
      'position-taken',
    )
  }

  async #written(tx: Db, actor: Actor, boatId: string, id: string): Promise<AnodeView> {
    await this.#refits.request(tx, actor)
    return found(await readAnode(tx, actor, boatId, id), 'the anode')
  }
}

function refuse(faults: readonly FieldError[]): void {
  if (faults.length > 0) throw new Invalid(faults)
}

/** The anode with its boat and itself locked, in the version that the asker saw where a version is asked for. */
async function lockedAnode(tx: Db, actor: Actor, boat: string, anode: string, version?: number): Promise<AnodeRecord> {
  const { id: boatId } = await visibleBoat(tx, actor, boat)
  await lockBoat(tx, actor.organisationId, boatId)
  const what = `anode ${anode} of boat ${boat}`
  const { id } = found(await findAnode(tx, actor, boatId, anode), what)
  const now = await lockAnode(tx, actor.organisationId, id)
  if (version !== undefined) expectVersion(what, now, version)
  return found(await findAnode(tx, actor, boatId, id), what)
}
