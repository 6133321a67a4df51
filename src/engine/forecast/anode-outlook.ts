import { FORECAST_CONTEXT_DAYS } from '../rates/fit-rates.js'
import type { FleetHistory } from '../rates/fleet-history.js'
import { dueConsumption, type ObservedAnode } from '../rates/mass-states.js'
import type { RateContext } from '../rates/rate-design.js'
import { ageYears, contextOf, type ObservedBoat } from '../rates/rate-intervals.js'
import { predictLogRate, type RateModel } from '../rates/rate-model.js'
import type { LinearTarget, Prediction } from '../statistics/mixed-model/types.js'
import type { FilteredConsumption } from './filtered-mass.js'
import { filteredCourse } from './own-course.js'
import { ownLogRate } from './own-rate.js'
import { type Ahead, dayAtPacedExposure } from './paced-exposure.js'
import { predictiveNoiseVariance } from './predictive-noise.js'

/** What is believed of one anode from its last weighing on: the state it was in, and the rate it goes on with. */
export interface AnodeOutlook {
  readonly boat: ObservedBoat
  readonly anode: ObservedAnode
  readonly target: LinearTarget
  /** Log rate since the last weighing, without the noise of an interval [log g/d]. */
  readonly logRate: Prediction
  /** By how much its own intervals that lie far off move it beyond the fit [log g/d]. */
  readonly beyondFit: number
  /** Variance of that noise over a year. */
  readonly noise: number
  /** Exposure from the last weighing until it is likely to be due; negative where that lies behind [d]. */
  readonly dueExposureDays: number
  /** How the pace changes from today on. */
  readonly ahead: Ahead
  /** Filtered consumption at each of its states. */
  readonly path: readonly FilteredConsumption[]
  /** The last of them: what is forecast starts here. */
  readonly last: FilteredConsumption
  /** Of the last consumption with the log rate [g]. */
  readonly covariance: number
}

/**
 * The outlook of an anode at `model.asOf`. Until then it went at the rate of the berths since its last weighing, from then on at
 * that of the year ahead; the season's uncertainty counts over the time until it is likely to be due.
 */
export function outlookOf(model: RateModel, boat: ObservedBoat, anode: ObservedAnode): AnodeOutlook {
  const from = anode.states.at(-1)!.on
  const turn = Math.max(model.asOf, from)
  const since = contextOf(boat, anode, from, turn)
  // A boat that is to stay ashore for a year has its year in the water after that.
  const yearEnd = boat.calendar.dayAtExposure(turn, FORECAST_CONTEXT_DAYS, FORECAST_HORIZON_DAYS)
  const toCome = contextOf(boat, anode, turn, yearEnd ?? turn + FORECAST_CONTEXT_DAYS)
  const first = outlookIn(model, { boat, anode, since, toCome })
  const dueDay =
    first.dueExposureDays > 0 ? dayAtPacedExposure(first, first.dueExposureDays, FORECAST_HORIZON_DAYS) : null
  if (dueDay === null) return first
  const { season } = boat.calendar.between(from, dueDay)
  const over = (context: RateContext): RateContext => ({
    ...context,
    exposure: { ...context.exposure, season },
    ageYears: ageYears(anode, (from + dueDay) / 2),
  })
  return outlookIn(model, { boat, anode, since: over(since), toCome: over(toCome) })
}

interface Course {
  readonly boat: ObservedBoat
  readonly anode: ObservedAnode
  readonly since: RateContext
  readonly toCome: RateContext
}

function outlookIn(model: RateModel, { boat, anode, since, toCome }: Course): AnodeOutlook {
  const target = model.design.target(toCome)
  const coming = ownLogRate(model, anode, target)
  // Weighed today, or ashore ever since: nothing but what is to come.
  const sinceTarget = since.exposure.days > 0 ? model.design.target(since) : target
  const past = ownLogRate(model, anode, sinceTarget)
  const beyondFit = past.mean - predictLogRate(model, sinceTarget).mean
  const noise = predictiveNoiseVariance(model)
  const factor = Math.exp(coming.mean - past.mean)
  const ahead = { from: model.asOf, factor, variance: Math.max(past.variance, coming.variance) }
  const { path, covariance } = filteredCourse(model, anode, sinceTarget, past)
  const last = path.at(-1)!
  const dueExposureDays = (dueConsumption(anode) - last.consumption) / Math.exp(past.mean)
  return { boat, anode, target, logRate: past, beyondFit, noise, dueExposureDays, ahead, path, last, covariance }
}

/** A date further ahead than this is not told: thirty years, by contract. */
export const FORECAST_HORIZON_DAYS = 30 * 365.25

/** The anodes in place on the day of the model. */
export function anodesInPlace(model: RateModel): { boat: ObservedBoat; anode: ObservedAnode }[] {
  return model.boats.flatMap((boat) =>
    boat.anodes
      .filter(
        ({ history }) => (history.removedOn ?? Infinity) > model.asOf && (history.fittedOn ?? -Infinity) <= model.asOf,
      )
      .map((anode) => ({ boat, anode })),
  )
}

/**
 * The part of a history that was known on a day. What happened later is dropped; an anode removed later is still in place; a
 * stay that ended later has no end yet. Plans stay: planned haul-outs, and, where the day is today, stays to come.
 *
 * @param asOf day number
 * @param today day number: stays that begin after it are plans; those between `asOf` and `today` are not yet known
 */
export function knownBy(history: FleetHistory, asOf: number, today: number): FleetHistory {
  const keepPlans = asOf >= today
  return {
    berths: history.berths,
    boats: history.boats.map((boat) => ({
      ...boat,
      stays: keepPlans
        ? boat.stays
        : boat.stays
            .filter(({ from }) => from <= asOf)
            .map((stay) => ((stay.to ?? -Infinity) > asOf ? { ...stay, to: null } : stay)),
      haulOuts: boat.haulOuts
        .filter(({ on, planned }) => on <= asOf || planned)
        .map((lift) =>
          (lift.relaunchedOn ?? -Infinity) > asOf && lift.on <= asOf && !keepPlans
            ? { ...lift, relaunchedOn: null }
            : lift,
        ),
      anodes: boat.anodes
        .filter(({ fittedOn }) => (fittedOn ?? -Infinity) <= asOf)
        .map((anode) => ({
          ...anode,
          removedOn: (anode.removedOn ?? -Infinity) > asOf ? null : anode.removedOn,
          weighings: anode.weighings.filter(({ on }) => on <= asOf),
        })),
    })),
  }
}
