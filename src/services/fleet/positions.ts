import type { Page } from '../../contract/paging.js'
import type { PositionChange, PositionQuery, PositionView } from '../../contract/positions.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { lockPosition, pageOfPositions, readPosition, setThreshold } from '../../db/repositories/positions.js'
import type { Actor } from '../actor.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { expectVersion } from './expect-version.js'
import { found, visibleBoat } from './visible.js'

/** The places on a boat that take an anode. They come and stay with the anodes fitted there. */
export class PositionService {
  readonly #db: Db
  readonly #refits: RefitRequests

  constructor(db: Db, refits: RefitRequests) {
    this.#db = db
    this.#refits = refits
  }

  page(actor: Actor, boat: string, query: PositionQuery): Promise<Page<PositionView>> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await visibleBoat(tx, actor, boat)
      return pageOfPositions(tx, actor.organisationId, id, query)
    })
  }

  read(actor: Actor, boat: string, position: string): Promise<PositionView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await visibleBoat(tx, actor, boat)
      return found(await readPosition(tx, actor.organisationId, id, position), 'the position')
    })
  }

  /** @throws NotFound, Stale */
  change(
    actor: Actor,
    boat: string,
    position: string,
    expectedVersion: number,
    { wastingThreshold }: PositionChange,
  ): Promise<PositionView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { id: boatId } = await visibleBoat(tx, actor, boat)
      found(await readPosition(tx, actor.organisationId, boatId, position), 'the position')
      expectVersion('the position', await lockPosition(tx, actor.organisationId, position), expectedVersion)
      await setThreshold(tx, actor.organisationId, position, wastingThreshold)
      await this.#refits.request(tx, actor)
      return found(await readPosition(tx, actor.organisationId, boatId, position), 'the position')
    })
  }
}
