import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import type { FleetRecords } from '../../db/repositories/fleet-records.js'
import { lacksHindsight } from '../../db/repositories/forecast-ledger.js'
import { saveHindsightFit } from '../../db/repositories/forecasts.js'
import { NotConverged } from '../../engine/errors.js'
import { dayNumber } from '../dates/day-numbers.js'
import type { ComputeForecasts } from './compute-forecasts.js'
import { fleetQuestion } from './fleet-question.js'
import { issuedForecasts } from './forecast-items.js'

/** Two years back, quarter by quarter: every anode that lasts a year is forecast at several distances. Convention. */
const QUARTERS = 8
const MONTHS_PER_QUARTER = 3
const HINDSIGHT_ACTOR = 'hindsight'
/** No further look back is begun after this time: whoever waits for a refit does not wait long for it. It goes on at the next one. */
export const LOOK_BACK_LIMIT_MS = 10_000

/** A fleet as it was read for a refit. */
export interface ReadFleet {
  readonly organisationId: string
  readonly records: FleetRecords
  readonly revision: number
  /** The day of the refit, 'YYYY-MM-DD'. */
  readonly today: string
  readonly fittedAt: string
}

/**
 * Forecasts as of past days, from what was known by then, for a fleet whose history was written down later: the weighings since judge them, so
 * that nobody has to wait for years to learn how good forecasts are here. They are marked as made in hindsight.
 */
export class Hindsight {
  readonly #db: Db
  readonly #engine: ComputeForecasts
  readonly #limitMs: number

  constructor(db: Db, engine: ComputeForecasts, limitMs: number) {
    this.#db = db
    this.#engine = engine
    this.#limitMs = limitMs
  }

  /**
   * Looks back to the quarters that lack it, the latest first. Each is kept by itself: what is interrupted goes on where it was.
   *
   * @returns to how many it looked back
   */
  async fillIn(fleet: ReadFleet, onDay: (day: string, share: number) => Promise<void>): Promise<number> {
    const began = performance.now()
    let filled = 0
    for (const [index, day] of quartersBefore(fleet.today).entries()) {
      if (performance.now() - began >= this.#limitMs) break
      const acting = { organisationId: fleet.organisationId, actor: HINDSIGHT_ACTOR }
      if (!(await inOrganisation(this.#db, acting, (tx) => lacksHindsight(tx, fleet.organisationId, day)))) continue
      await onDay(day, index / QUARTERS)
      if (await this.issueAsOf(fleet, day)) filled++
    }
    return filled
  }

  /** @returns whether the fit settled; where it does not, there are no forecasts of that day */
  async issueAsOf({ organisationId, records, revision, today, fittedAt }: ReadFleet, day: string): Promise<boolean> {
    const asOf = dayNumber(day)
    const question = fleetQuestion(records, asOf, dayNumber(today))
    const forecast = await this.#engine.compute(question).catch((error: unknown) => {
      // By name: the error may come from another thread.
      if (error instanceof Error && error.name === NotConverged.name) return undefined
      throw error
    })
    if (forecast === undefined) return false
    const fit = { asOf: day, fittedAt, dataRevision: revision, summary: forecast.summary }
    const issued = issuedForecasts(records, forecast)
    await inOrganisation(this.#db, { organisationId, actor: HINDSIGHT_ACTOR }, (tx) =>
      saveHindsightFit(tx, organisationId, fit, issued),
    )
    return true
  }
}

/** The first days of the quarters before a day, the latest first. @example quartersBefore('2031-04-18')[0] // '2031-04-01' */
export function quartersBefore(today: string): string[] {
  const year = Number(today.slice(0, 4))
  const quarter = Math.floor((Number(today.slice(5, 7)) - 1) / MONTHS_PER_QUARTER)
  return Array.from({ length: QUARTERS + 1 }, (_, back) =>
    new Date(Date.UTC(year, (quarter - back) * MONTHS_PER_QUARTER, 1)).toISOString().slice(0, 10),
  )
    .filter((day) => day < today)
    .slice(0, QUARTERS)
}
