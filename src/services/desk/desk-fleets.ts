import { setImmediate } from 'node:timers/promises'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { readFleetRecords } from '../../db/repositories/fleet-records.js'
import { knownBy } from '../../engine/forecast/anode-outlook.js'
import { observeFleet } from '../../engine/rates/rate-intervals.js'
import { dayNumber } from '../dates/day-numbers.js'
import type { IssuedFleet, IssuedFleets } from '../forecasts/issued-fleets.js'
import { fleetHistoryOf } from '../model/fleet-history.js'
import { DeskBoats, type DeskFleet, type DeskFleetBoat } from './desk-fleet.js'

/** Boats read at once: others are served in between. */
const BOATS_AT_ONCE = 50

/** Today's fleets as the desk shows them, each put together once for as long as its forecasts and data stay. */
export class DeskFleets {
  readonly #db: Db
  readonly #issued: IssuedFleets
  readonly #kept = new WeakMap<IssuedFleet, Promise<DeskFleet>>()

  constructor(db: Db, issued: IssuedFleets) {
    this.#db = db
    this.#issued = issued
  }

  /** @throws NotComputed */
  async today(organisationId: string): Promise<DeskFleet> {
    const issued = await this.#issued.on(organisationId)
    const kept = this.#kept.get(issued)
    if (kept !== undefined) return kept
    const fleet = this.#read(organisationId, issued)
    this.#kept.set(issued, fleet)
    fleet.catch(() => this.#kept.delete(issued))
    return fleet
  }

  async #read(organisationId: string, { asOf, forecasts, summary }: IssuedFleet): Promise<DeskFleet> {
    const records = await inOrganisation(this.#db, { organisationId, actor: 'desk' }, (tx) =>
      readFleetRecords(tx, organisationId),
    )
    const day = dayNumber(asOf)
    const history = knownBy(fleetHistoryOf(records), day, day)
    const desk = new DeskBoats({ asOf, records, forecasts })
    const names = new Map(records.boats.map(({ id, name }) => [id, name]))
    const boats: DeskFleetBoat[] = []
    for (let start = 0; start < history.boats.length; start += BOATS_AT_ONCE) {
      const some = history.boats.slice(start, start + BOATS_AT_ONCE)
      const observed = observeFleet({ ...history, boats: some }, day, summary.observation)
      // Boats of a history are in the order of their rows.
      for (const [at, each] of observed.entries()) boats.push(desk.boat(records.boats[start + at]!, each))
      await setImmediate()
    }
    return {
      asOf,
      day,
      boats,
      berthEffects: summary.berthEffects,
      fixed: summary.fixed,
      boatOfAnode: new Map(records.anodes.map(({ anode }) => [anode.id, names.get(anode.boatId)!])),
    }
  }
}
