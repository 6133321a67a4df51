import type { Page } from '../../contract/paging.js'
import type { NewStay, StayChange, StayQuery, StayView } from '../../contract/stays.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { findBerth } from '../../db/repositories/berths.js'
import {
  type BoatSpan,
  closeOpenStay,
  deleteStay,
  findStaySpan,
  insertStay,
  lockStay,
  pageOfStays,
  readStay,
  stayThatOverlaps,
  updateStay,
} from '../../db/repositories/stays.js'
import type { Actor } from '../actor.js'
import { Conflict, Invalid } from '../errors.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { expectVersion } from './expect-version.js'
import { found, visibleBoat } from './visible.js'

/** Where boats lie, lay and will lie. */
export class StayService {
  readonly #db: Db
  readonly #refits: RefitRequests

  constructor(db: Db, refits: RefitRequests) {
    this.#db = db
    this.#refits = refits
  }

  page(actor: Actor, query: StayQuery): Promise<Page<StayView>> {
    return inOrganisation(this.#db, actor, (tx) => pageOfStays(tx, actor, query))
  }

  /** @throws NotFound for a boat that the asker cannot see, where `page` would give an empty list */
  pageOfBoat(actor: Actor, boat: string, query: StayQuery): Promise<Page<StayView>> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await visibleBoat(tx, actor, boat)
      return pageOfStays(tx, actor, { ...query, boat: id })
    })
  }

  read(actor: Actor, id: string): Promise<StayView> {
    return inOrganisation(this.#db, actor, async (tx) => found(await readStay(tx, actor, id), 'the stay'))
  }

  /** @throws NotFound, Invalid, Conflict for a stay that overlaps another of the boat */
  create(actor: Actor, boat: string, stay: NewStay): Promise<StayView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id: boatId } = await visibleBoat(tx, actor, boat)
      const span = { boatId, fromOn: stay.fromOn, toOn: stay.toOn ?? null }
      const berthId = await this.#berthId(tx, actor, stay.berth)
      if (stay.closeOpenStay) await closeOpenStay(tx, actor.organisationId, boatId, stay.fromOn)
      await this.#check(tx, actor, span)
      const { shorePowerHoursPerDay = null } = stay
      const id = await insertStay(tx, actor.organisationId, boatId, {
        berthId,
        fromOn: span.fromOn,
        toOn: span.toOn,
        shorePowerHoursPerDay,
      })
      return this.#changed(tx, actor, id)
    })
  }

  /** @throws NotFound, Stale, Invalid, Conflict */
  change(actor: Actor, id: string, expectedVersion: number, change: StayChange): Promise<StayView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const before = await this.#lock(tx, actor, id, expectedVersion)
      const { berth, ...details } = change
      const berthId = berth === undefined ? undefined : await this.#berthId(tx, actor, berth)
      const span = {
        boatId: before.boatId,
        fromOn: change.fromOn ?? before.fromOn,
        toOn: change.toOn === undefined ? before.toOn : change.toOn,
      }
      await this.#check(tx, actor, span, id)
      await updateStay(tx, actor.organisationId, id, berthId === undefined ? details : { ...details, berthId })
      return this.#changed(tx, actor, id)
    })
  }

  /** @throws NotFound, Stale */
  async remove(actor: Actor, id: string, expectedVersion: number): Promise<void> {
    await inOrganisation(this.#db, actor, async (tx) => {
      await this.#lock(tx, actor, id, expectedVersion)
      await deleteStay(tx, actor.organisationId, id)
      await this.#refits.request(tx, actor)
    })
  }

  async #lock(tx: Db, actor: Actor, id: string, expectedVersion: number): Promise<BoatSpan> {
    found(await findStaySpan(tx, actor, id), 'the stay')
    expectVersion('the stay', await lockStay(tx, actor.organisationId, id), expectedVersion)
    return found(await findStaySpan(tx, actor, id), 'the stay')
  }

  async #berthId(tx: Db, actor: Actor, berth: string | null): Promise<string | null> {
    if (berth === null) return null
    const key = await findBerth(tx, actor, berth)
    if (!key) throw new Invalid([{ pointer: '#/berth', detail: `there is no berth ${berth}; null means ashore` }])
    return key.id
  }

  async #check(tx: Db, actor: Actor, span: BoatSpan, exceptId?: string): Promise<void> {
    if (span.toOn !== null && span.toOn < span.fromOn) {
      const detail = `a stay that begins on ${span.fromOn} cannot end on ${span.toOn}`
      throw new Invalid([{ pointer: '#/toOn', detail }])
    }
    const other = await stayThatOverlaps(tx, actor.organisationId, span, exceptId)
    if (other) throw new Conflict(`the boat is ${whereabouts(other)} in that time; a boat is at one berth at a time`)
  }

  async #changed(tx: Db, actor: Actor, id: string): Promise<StayView> {
    await this.#refits.request(tx, actor)
    return found(await readStay(tx, actor, id), 'the stay')
  }
}

function whereabouts({ berth, fromOn, toOn }: StayView): string {
  const place = berth === null ? 'ashore' : `at berth ${berth}`
  return toOn === null ? `${place} from ${fromOn} until further notice` : `${place} from ${fromOn} to ${toOn}`
}
