import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { dataRevision, type FleetRecords, readFleetRecords } from '../../db/repositories/fleet-records.js'
import { type JudgedForecast, judgedForecasts, saveFit } from '../../db/repositories/forecasts.js'
import { knownBy } from '../../engine/forecast/anode-outlook.js'
import { type Calibration, calibrationOf, forecastTransform } from '../../engine/forecast/calibration.js'
import type { FleetForecast } from '../../engine/forecast/fleet-forecast.js'
import type { FleetHistory } from '../../engine/rates/fleet-history.js'
import { observeFleet } from '../../engine/rates/rate-intervals.js'
import { dayNumber } from '../dates/day-numbers.js'
import type { ComputeForecasts } from './compute-forecasts.js'
import { fleetHistoryOf } from './fleet-history.js'
import { issuedForecasts } from './forecast-items.js'

/** Told how far a refit is: share done, and what is being done now. */
export type OnProgress = (progress: number, step: string) => Promise<void>

/** Fits an organisation's rates anew, as of today, and issues its forecasts. */
export class RefitService {
  readonly #db: Db
  readonly #engine: ComputeForecasts
  readonly #now: () => Date

  constructor(db: Db, engine: ComputeForecasts, now: () => Date) {
    this.#db = db
    this.#engine = engine
    this.#now = now
  }

  /** Load, compute, save: whatever is interrupted leaves the last fit as it was, and may simply be run again. */
  async refit(organisationId: string, onProgress: OnProgress): Promise<void> {
    await onProgress(0.05, 'reading the fleet')
    const { records, revision, judged } = await this.#load(organisationId)
    const fittedAt = this.#now().toISOString()
    const asOf = fittedAt.slice(0, 10)
    const history = knownBy(fleetHistoryOf(records), dayNumber(asOf), dayNumber(asOf))
    await onProgress(0.2, 'fitting the rates')
    const forecast = await this.#engine.compute(history, dayNumber(asOf))
    await onProgress(0.8, 'issuing the forecasts')
    const summary = { ...forecast.summary, calibration: calibrate(history, forecast, judged) }
    const issued = issuedForecasts(records, forecast)
    await inOrganisation(this.#db, { organisationId, actor: 'refit' }, (tx) =>
      saveFit(tx, organisationId, { asOf, fittedAt, dataRevision: revision, summary }, issued),
    )
  }

  #load(organisationId: string): Promise<{ records: FleetRecords; revision: number; judged: JudgedForecast[] }> {
    return inOrganisation(this.#db, { organisationId, actor: 'refit' }, async (tx) => ({
      // The revision is read first: a change that slips in between makes the fit look older, never newer.
      revision: await dataRevision(tx, organisationId),
      records: await readFleetRecords(tx, organisationId),
      judged: await judgedForecasts(tx, organisationId),
    }))
  }
}

function calibrate(
  history: FleetHistory,
  { asOf, summary }: FleetForecast,
  judged: readonly JudgedForecast[],
): Calibration {
  const observed = new Map(
    observeFleet(history, asOf, summary.observation).flatMap((boat) =>
      boat.anodes.map((anode) => [anode.history.key, { boat, anode }]),
    ),
  )
  const transforms = judged.flatMap(({ anodeId, weighedOn, outlook }) => {
    const found = observed.get(anodeId)
    return (found && forecastTransform(outlook, found.boat, found.anode, dayNumber(weighedOn))) ?? []
  })
  return calibrationOf(transforms)
}
