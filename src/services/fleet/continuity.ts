import {
  BOND,
  type ContinuityChange,
  type ContinuityQuery,
  type ContinuityView,
  type NewContinuityReading,
} from '../../contract/continuity.js'
import type { Page } from '../../contract/paging.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  boatOfContinuity,
  deleteContinuity,
  insertContinuity,
  isPartOfBoat,
  lockContinuity,
  pageOfContinuity,
  readContinuity,
  updateContinuity,
} from '../../db/repositories/continuity.js'
import type { Actor } from '../actor.js'
import { type FieldError, Invalid } from '../errors.js'
import { expectVersion } from './expect-version.js'
import { refuseFutureReading } from './reading-dates.js'
import { found, visibleBoat } from './visible.js'

interface NamedBoat {
  readonly id: string
  readonly name: string
}

/** Resistances of the bonding. Forecasts do not rest on them: no refit follows. */
export class ContinuityService {
  readonly #db: Db
  readonly #today: () => string

  /** @param today the server's day in UTC: nothing is measured after tomorrow */
  constructor(db: Db, today: () => string) {
    this.#db = db
    this.#today = today
  }

  page(actor: Actor, query: ContinuityQuery): Promise<Page<ContinuityView>> {
    return inOrganisation(this.#db, actor, (tx) => pageOfContinuity(tx, actor, query))
  }

  /** @throws NotFound for a boat that the asker cannot see, where `page` would give an empty list */
  pageOfBoat(actor: Actor, boat: string, query: ContinuityQuery): Promise<Page<ContinuityView>> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await visibleBoat(tx, actor, boat)
      return pageOfContinuity(tx, actor, { ...query, boat: id })
    })
  }

  read(actor: Actor, id: string): Promise<ContinuityView> {
    return inOrganisation(this.#db, actor, async (tx) =>
      found(await readContinuity(tx, actor, id), 'the continuity reading'),
    )
  }

  /** @throws NotFound, Invalid */
  create(actor: Actor, boat: string, reading: NewContinuityReading): Promise<ContinuityView> {
    refuseFutureReading(reading.measuredAt, this.#today())
    return inOrganisation(this.#db, actor, async (tx) => {
      const of = await visibleBoat(tx, actor, boat)
      await this.#checkEnds(tx, actor, of, reading)
      const { from, to, ...rest } = reading
      const id = await insertContinuity(tx, actor.organisationId, of.id, { ...rest, fromName: from, toName: to })
      return found(await readContinuity(tx, actor, id), 'the continuity reading')
    })
  }

  /** @throws NotFound, Stale, Invalid */
  change(actor: Actor, id: string, expectedVersion: number, change: ContinuityChange): Promise<ContinuityView> {
    if (change.measuredAt !== undefined) refuseFutureReading(change.measuredAt, this.#today())
    return inOrganisation(this.#db, actor, async (tx) => {
      const boat = await this.#lock(tx, actor, id, expectedVersion)
      const before = found(await readContinuity(tx, actor, id), 'the continuity reading')
      const { from = before.from, to = before.to, ...rest } = change
      if (change.from !== undefined || change.to !== undefined) await this.#checkEnds(tx, actor, boat, { from, to })
      await updateContinuity(tx, actor.organisationId, id, { ...rest, fromName: from, toName: to })
      return found(await readContinuity(tx, actor, id), 'the continuity reading')
    })
  }

  /** @throws NotFound, Stale */
  async remove(actor: Actor, id: string, expectedVersion: number): Promise<void> {
    await inOrganisation(this.#db, actor, async (tx) => {
      await this.#lock(tx, actor, id, expectedVersion)
      await deleteContinuity(tx, actor.organisationId, id)
    })
  }

  async #lock(tx: Db, actor: Actor, id: string, expectedVersion: number): Promise<NamedBoat> {
    const boat = found(await boatOfContinuity(tx, actor, id), 'the continuity reading')
    expectVersion('the continuity reading', await lockContinuity(tx, actor.organisationId, id), expectedVersion)
    return boat
  }

  async #checkEnds(tx: Db, actor: Actor, boat: NamedBoat, ends: { from: string; to: string }): Promise<void> {
    const errors: FieldError[] = []
    for (const end of ['from', 'to'] as const) {
      const name = ends[end]
      if (name === BOND || (await isPartOfBoat(tx, actor.organisationId, boat.id, name))) continue
      errors.push({ pointer: `#/${end}`, detail: `${boat.name} has neither a fitting nor an anode ${name}` })
    }
    if (ends.from === ends.to) errors.push({ pointer: '#/to', detail: 'a reading goes from one thing to another' })
    if (errors.length > 0) throw new Invalid(errors)
  }
}
