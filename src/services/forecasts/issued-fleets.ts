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

/** A fleet in memory, and of which state of its organisation's data. */
interface KeptFleet {
  readonly organisationId: string
  readonly revision: number
  readonly fleet: Promise<IssuedFleet>
  /** Forecasts in it; none while it is on its way. */
  size: number
}

/**
 * Kept in memory at most: a person leafing through pages, or through a few days, asks for the same fleets again. About eight fleets of
 * 2,000 boats with four anodes each, or hundreds of small ones. Measured: 1.8 kB of heap a forecast of the demo, so that these are 118 MB.
 */
const KEPT_FORECASTS = 64_000
/** However small: finding what is out of date looks at each. */
const KEPT_FLEETS = 256

/**
 * Where forecasts come from: for today those that the last refit issued, for another day (or before the first refit) computed
 * on the engine's thread from what was known by then. Either is kept until the data change.
 */
export class IssuedFleets {
  readonly #db: Db
  readonly #engine: ComputeForecasts
  readonly #now: () => Date
  readonly #keptForecasts: number
  /** The one asked for last is at the end. */
  readonly #kept = new Map<string, KeptFleet>()

  constructor(db: Db, engine: ComputeForecasts, now: () => Date, keptForecasts = KEPT_FORECASTS) {
    this.#db = db
    this.#engine = engine
    this.#now = now
    this.#keptForecasts = keptForecasts
  }

  /** @param asOf day; today unless given */
  async on(organisationId: string, asOf?: string): Promise<IssuedFleet> {
    const today = utcDay(this.#now())
    const day = asOf ?? today
    const { fit, revision } = await this.#read(organisationId, async (tx) => ({
      fit: day === today ? await newestFit(tx, organisationId) : undefined,
      revision: await dataRevision(tx, organisationId),
    }))
    if (fit?.asOf === day) {
      const { id, summary } = fit
      return this.#keep(`${id}:${fit.dataRevision}:${revision}`, { organisationId, revision }, async () => ({
        asOf: day,
        summary,
        seen: null,
        forecasts: await this.#read(organisationId, (tx) => forecastsOfFit(tx, organisationId, id)),
      }))
    }
    return this.#keep(`${organisationId}:${day}:${today}:${revision}`, { organisationId, revision }, () =>
      this.#compute(organisationId, day, { today, revision }),
    )
  }

  async #compute(organisationId: string, day: string, known: Known): Promise<IssuedFleet> {
    const records = await this.#read(organisationId, (tx) => readFleetRecords(tx, organisationId))
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

  /** Of the whole fleet, whoever asks: an owner's dates rest on all boats. */
  #read<T>(organisationId: string, work: (tx: Db) => Promise<T>): Promise<T> {
    return inOrganisation(this.#db, { organisationId, actor: 'forecast' }, work)
  }

  /** One computation for all who ask at once; one that failed is not kept, nor one whose data have changed since: nobody asks for it again. */
  #keep(
    key: string,
    of: Pick<KeptFleet, 'organisationId' | 'revision'>,
    make: () => Promise<IssuedFleet>,
  ): Promise<IssuedFleet> {
    const known = this.#kept.get(key)
    this.#kept.delete(key)
    const kept = known ?? { ...of, fleet: make(), size: 0 }
    this.#kept.set(key, kept)
    if (known === undefined) {
      const measured = ({ forecasts }: IssuedFleet) => {
        kept.size = forecasts.length
        this.#makeRoom()
      }
      kept.fleet.then(measured, () => this.#kept.delete(key))
      for (const [other, { organisationId, revision }] of this.#kept) {
        if (organisationId === of.organisationId && revision < of.revision) this.#kept.delete(other)
      }
    }
    return kept.fleet
  }

  /** Lets go of what nobody has asked for the longest; one fleet stays, whatever its size. */
  #makeRoom(): void {
    let size = 0
    for (const kept of this.#kept.values()) size += kept.size
    for (const [key, kept] of this.#kept) {
      if (this.#kept.size === 1 || (size <= this.#keptForecasts && this.#kept.size <= KEPT_FLEETS)) return
      size -= kept.size
      this.#kept.delete(key)
    }
  }
}
