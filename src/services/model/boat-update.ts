import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { dataRevision, readFleetRecords } from '../../db/repositories/fleet-records.js'
import { newestFit, raiseRevision, saveForecasts } from '../../db/repositories/forecasts.js'
import { boatsTouchedSince } from '../../db/repositories/touched-boats.js'
import { dayNumber } from '../dates/day-numbers.js'
import { utcDay } from '../dates/not-in-future.js'
import { forecastsUntilNow, tellForecasts } from '../webhooks/tell-forecasts.js'
import type { ComputeForecasts } from './compute-forecasts.js'
import { fitKey } from './fit-key.js'
import { historyKnownBy } from './fleet-question.js'
import { issuedForecasts } from './forecast-items.js'

/** More boats than this at once are an import's: the refit that follows is soon enough. */
const MOST_BOATS = 20

/**
 * New dates for the boats that were just weighed, in milliseconds, with the fleet's parameters as the last fit left them. The full
 * refit follows and agrees; until it is done nobody waits for the boat in the slings.
 */
export class BoatUpdate {
  readonly #db: Db
  readonly #engine: ComputeForecasts
  readonly #now: () => Date

  constructor(db: Db, engine: ComputeForecasts, now: () => Date) {
    this.#db = db
    this.#engine = engine
    this.#now = now
  }

  /** @returns whether new dates were issued; false where only the refit can tell */
  async update(organisationId: string): Promise<boolean> {
    const acting = { organisationId, actor: 'refit' }
    const fit = await inOrganisation(this.#db, acting, (tx) => newestFit(tx, organisationId))
    if (fit === undefined || fit.asOf !== utcDay(this.#now())) return false
    const changed = await inOrganisation(this.#db, acting, async (tx) => {
      const revision = await dataRevision(tx, organisationId)
      const boatIds = await boatsTouchedSince(tx, organisationId, fit.dataRevision)
      if (boatIds === null || boatIds.length === 0 || boatIds.length > MOST_BOATS) return undefined
      return { revision, records: await readFleetRecords(tx, organisationId, boatIds) }
    })
    if (changed === undefined) return false
    const { revision, records } = changed
    const day = dayNumber(fit.asOf)
    const { boats } = historyKnownBy(records, day, day)
    const anodes = await this.#engine.update({
      key: fitKey(organisationId, fit.asOf, fit.dataRevision),
      newKey: fitKey(organisationId, fit.asOf, revision),
      boats,
    })
    if (anodes === null) return false
    await inOrganisation(this.#db, acting, async (tx) => {
      const issued = issuedForecasts(records, { asOf: day, anodes })
      const before = await forecastsUntilNow(tx, organisationId)
      await saveForecasts(tx, organisationId, fit, issued)
      await tellForecasts(tx, organisationId, { asOf: fit.asOf, of: 'boats', before, issued })
      await raiseRevision(tx, organisationId, fit.id, revision)
    })
    return true
  }
}
