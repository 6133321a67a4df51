import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { dataRevision, REFIT_ACTOR, readFleetRecords } from '../../db/repositories/fleet-records.js'
import { newestFit, saveFit, saveSummary } from '../../db/repositories/forecasts.js'
import { queueForFits } from '../../db/repositories/organisations.js'
import { dayNumber } from '../dates/day-numbers.js'
import { keepFindings } from '../findings/keep-findings.js'
import { forecastsUntilNow, tellForecasts } from '../webhooks/tell-forecasts.js'
import { BoatUpdate } from './boat-update.js'
import type { ComputeForecasts } from './compute-forecasts.js'
import { fitKey } from './fit-key.js'
import { fleetQuestion } from './fleet-question.js'
import { issuedForecasts } from './forecast-items.js'
import { Hindsight, LOOK_BACK_LIMIT_MS, type ReadFleet } from './hindsight.js'
import { judgeLedger, readLedger } from './judge-ledger.js'

type NewestFit = Awaited<ReturnType<typeof newestFit>>

/** Two refits may run at once: what the one that saw more has issued stays. */
function isNewer(newest: NewestFit, { today, revision }: ReadFleet): boolean {
  if (newest === undefined || newest.asOf < today) return false
  return newest.asOf > today || newest.dataRevision > revision
}

/** Told how far a refit is: share done, and what is being done now. */
export type OnProgress = (progress: number, step: string) => Promise<void>

/** Fits an organisation's rates anew, as of today, issues its forecasts and keeps its findings. */
export class RefitService {
  readonly #db: Db
  readonly #engine: ComputeForecasts
  readonly #boats: BoatUpdate
  readonly #hindsight: Hindsight
  readonly #now: () => Date

  /** @param lookBackLimitMs for how long a refit begins to look back, when its own forecasts are out */
  constructor(db: Db, engine: ComputeForecasts, now: () => Date, lookBackLimitMs: number = LOOK_BACK_LIMIT_MS) {
    this.#db = db
    this.#engine = engine
    this.#boats = new BoatUpdate(db, engine, now)
    this.#hindsight = new Hindsight(db, engine, lookBackLimitMs)
    this.#now = now
  }

  /**
   * Boats that were just weighed get new dates first, in milliseconds. Then load, compute, save: whatever is interrupted leaves
   * the last fit as it was, and may simply be run again. Once today's forecasts are out,
   * a history that was written down later is looked back on, so that its weighings judge forecasts too.
   */
  async refit(organisationId: string, onProgress: OnProgress): Promise<void> {
    await onProgress(0.02, 'updating the boats that were weighed')
    await this.#boats.update(organisationId)
    await onProgress(0.05, 'reading the fleet')
    const fleet = await this.#load(organisationId)
    const { records, revision, today, fittedAt, ledger } = fleet
    const asOf = dayNumber(today)
    const question = fleetQuestion(records, asOf, asOf)
    const { history } = question
    await onProgress(0.2, 'fitting the rates')
    const forecast = await this.#engine.compute(question, fitKey(organisationId, today, revision))
    await onProgress(0.75, 'issuing the forecasts')
    const summary = { ...forecast.summary, calibration: await judgeLedger(history, asOf, ledger) }
    const issued = issuedForecasts(records, forecast)
    const acting = { organisationId, actor: REFIT_ACTOR }
    const fitId = await inOrganisation(this.#db, acting, async (tx) => {
      await queueForFits(tx, organisationId)
      if (isNewer(await newestFit(tx, organisationId), fleet)) return undefined
      const fit = { asOf: today, fittedAt, dataRevision: revision, summary }
      const before = await forecastsUntilNow(tx, organisationId)
      const id = await saveFit(tx, organisationId, fit, issued)
      await tellForecasts(tx, organisationId, { asOf: today, of: 'fleet', before, issued })
      await keepFindings(tx, fleet, forecast.diagnoses)
      return id
    })
    if (fitId === undefined) return
    const filled = await this.#hindsight.fillIn(fleet, (day, share) =>
      onProgress(0.8 + 0.15 * share, `looking back to ${day}`),
    )
    if (filled === 0) return
    await onProgress(0.97, 'judging past forecasts')
    const grown = await inOrganisation(this.#db, acting, (tx) => readLedger(tx, organisationId))
    const calibration = await judgeLedger(history, asOf, grown)
    await inOrganisation(this.#db, acting, (tx) => saveSummary(tx, organisationId, fitId, { ...summary, calibration }))
  }

  /**
   * Issues the forecasts of a past day from what was known by then, marked as made in hindsight.
   *
   * @param day before today
   * @returns whether the fit of that day settled
   */
  async issueAsOf(organisationId: string, day: string): Promise<boolean> {
    return this.#hindsight.issueAsOf(await this.#load(organisationId), day)
  }

  async #load(organisationId: string) {
    const fittedAt = this.#now().toISOString()
    return inOrganisation(this.#db, { organisationId, actor: REFIT_ACTOR }, async (tx) => {
      // The revision is read first: a change that slips in between makes the fit look older, never newer.
      const revision = await dataRevision(tx, organisationId)
      const records = await readFleetRecords(tx, organisationId)
      const fleet: ReadFleet = { organisationId, records, revision, fittedAt, today: fittedAt.slice(0, 10) }
      return { ...fleet, ledger: await readLedger(tx, organisationId) }
    })
  }
}
