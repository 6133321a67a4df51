import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { dataRevision, readFleetRecords } from '../../db/repositories/fleet-records.js'
import { forecastsOfFit, type IssuedForecast, newestFit } from '../../db/repositories/forecasts.js'
import type { FleetForecast } from '../../engine/forecast/fleet-forecast.js'
import { dayNumber } from '../dates/day-numbers.js'
import { utcDay } from '../dates/not-in-future.js'
import { NotComputed } from '../errors.js'
import { type SeenFault, seenFaults } from '../findings/seen-faults.js'
import type { ComputeForecasts } from '../model/compute-forecasts.js'
import { fitKey } from '../model/fit-key.js'
import { fleetQuestion } from '../model/fleet-question.js'
import { issuedForecasts } from '../model/forecast-items.js'

/** The forecasts of a whole fleet as of a day. */
export interface IssuedFleet {
  readonly asOf: string
  readonly forecasts: readonly IssuedForecast[]
  readonly summary: FleetForecast['summary']
  /** What the engine has found on that day; null where findings are kept instead. */
  readonly seen: readonly SeenFault[] | null
}

interface Known {
  readonly today: string
  readonly revision: number
}

/** Fleets kept in memory: a person leafing through pages, or through a few days, asks for the same ones again. */
const KEPT_FLEETS = 24

/**
 * Where forecasts come from: for today those that the last refit issued, for another day (or before the first refit) computed
 * on the engine's thread from what was known by then. Either is kept until the data change.
 */
export class IssuedFleets {
  readonly #db: Db
  readonly #engine: ComputeForecasts
  readonly #now: () => Date
  readonly #kept = new Map<string, Promise<IssuedFleet>>()

  constructor(db: Db, engine: ComputeForecasts, now: () => Date) {
    this.#db = db
    this.#engine = engine
    this.#now = now
  }

  /** @param asOf day; today unless given */
  async on(organisationId: string, asOf?: string): Promise<IssuedFleet> {
    const today = utcDay(this.#now())
    const day = asOf ?? today
    const fit = day === today ? await newestFit(this.#db, organisationId) : undefined
    const revision = await dataRevision(this.#db, organisationId)
    if (fit?.asOf === day) {
      const { id, summary } = fit
      return this.#keep(`${id}:${fit.dataRevision}:${revision}`, async () => ({
        asOf: day,
        summary,
        seen: null,
        forecasts: await forecastsOfFit(this.#db, organisationId, id),
      }))
    }
    return this.#keep(`${organisationId}:${day}:${today}:${revision}`, () =>
      this.#compute(organisationId, day, { today, revision }),
    )
  }

  async #compute(organisationId: string, day: string, known: Known): Promise<IssuedFleet> {
    const records = await inOrganisation(this.#db, { organisationId, actor: 'forecast' }, (tx) =>
      readFleetRecords(tx, organisationId),
    )
    const question = fleetQuestion(records, dayNumber(day), dayNumber(known.today))
    const key = fitKey(organisationId, day, known.revision)
    const forecast = await this.#engine.compute(question, key).catch((cause: unknown) => {
      throw new NotComputed(`the forecasts as of ${day}`, cause)
    })
    const { summary, diagnoses } = forecast
    return {
      asOf: day,
      summary,
      seen: seenFaults(records, diagnoses, day),
      forecasts: issuedForecasts(records, forecast),
    }
  }

  /** One computation for all who ask at once; one that failed is not kept. */
  #keep(key: string, make: () => Promise<IssuedFleet>): Promise<IssuedFleet> {
    const kept = this.#kept.get(key)
    this.#kept.delete(key)
    const fleet = kept ?? make()
    this.#kept.set(key, fleet)
    if (kept === undefined) fleet.catch(() => this.#kept.delete(key))
    const [oldest] = this.#kept.keys()
    if (this.#kept.size > KEPT_FLEETS && oldest !== undefined) this.#kept.delete(oldest)
    return fleet
  }
}
