import type { Page } from '../../contract/paging.js'
import type { NewPotential, PotentialChange, PotentialQuery, PotentialView } from '../../contract/potentials.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { readFitting } from '../../db/repositories/fittings.js'
import {
  boatOfPotential,
  deletePotential,
  insertPotential,
  lockPotential,
  pageOfPotentials,
  readPotential,
  updatePotential,
} from '../../db/repositories/potentials.js'
import type { Actor } from '../actor.js'
import { Invalid } from '../errors.js'
import { expectVersion } from './expect-version.js'
import { refuseFutureReading } from './reading-dates.js'
import { found, visibleBoat } from './visible.js'

/** Potentials read with a reference electrode. Forecasts do not rest on them: no refit follows. */
export class PotentialService {
  readonly #db: Db
  readonly #today: () => string

  /** @param today the server's day in UTC: nothing is measured after tomorrow */
  constructor(db: Db, today: () => string) {
    this.#db = db
    this.#today = today
  }

  page(actor: Actor, query: PotentialQuery): Promise<Page<PotentialView>> {
    return inOrganisation(this.#db, actor, (tx) => pageOfPotentials(tx, actor, query))
  }

  /** @throws NotFound for a boat that the asker cannot see, where `page` would give an empty list */
  pageOfBoat(actor: Actor, boat: string, query: PotentialQuery): Promise<Page<PotentialView>> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await visibleBoat(tx, actor, boat)
      return pageOfPotentials(tx, actor, { ...query, boat: id })
    })
  }

  read(actor: Actor, id: string): Promise<PotentialView> {
    return inOrganisation(this.#db, actor, async (tx) => found(await readPotential(tx, actor, id), 'the potential'))
  }

  /** @throws NotFound, Invalid */
  create(actor: Actor, boat: string, { fitting, ...reading }: NewPotential): Promise<PotentialView> {
    refuseFutureReading(reading.measuredAt, this.#today())
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id: boatId } = await visibleBoat(tx, actor, boat)
      const fittingId = await this.#fittingId(tx, actor, boatId, fitting ?? null)
      const id = await insertPotential(tx, actor.organisationId, boatId, { ...reading, fittingId })
      return found(await readPotential(tx, actor, id), 'the potential')
    })
  }

  /** @throws NotFound, Stale, Invalid */
  change(actor: Actor, id: string, expectedVersion: number, change: PotentialChange): Promise<PotentialView> {
    if (change.measuredAt !== undefined) refuseFutureReading(change.measuredAt, this.#today())
    return inOrganisation(this.#db, actor, async (tx) => {
      const boatId = await this.#lock(tx, actor, id, expectedVersion)
      const { fitting, ...reading } = change
      const fittingId = fitting === undefined ? undefined : await this.#fittingId(tx, actor, boatId, fitting)
      await updatePotential(tx, actor.organisationId, id, fittingId === undefined ? reading : { ...reading, fittingId })
      return found(await readPotential(tx, actor, id), 'the potential')
    })
  }

  /** @throws NotFound, Stale */
  async remove(actor: Actor, id: string, expectedVersion: number): Promise<void> {
    await inOrganisation(this.#db, actor, async (tx) => {
      await this.#lock(tx, actor, id, expectedVersion)
      await deletePotential(tx, actor.organisationId, id)
    })
  }

  async #lock(tx: Db, actor: Actor, id: string, expectedVersion: number): Promise<string> {
    const boatId = found(await boatOfPotential(tx, actor, id), 'the potential')
    expectVersion('the potential', await lockPotential(tx, actor.organisationId, id), expectedVersion)
    return boatId
  }

  async #fittingId(tx: Db, actor: Actor, boatId: string, fitting: string | null): Promise<string | null> {
    if (fitting === null) return null
    const row = await readFitting(tx, actor.organisationId, boatId, fitting)
    if (row) return row.id
    const detail = `the boat has no fitting ${fitting}; null means the bonded hull`
    throw new Invalid([{ pointer: '#/fitting', detail }])
  }
}
