import { FORECAST_CONTEXT_DAYS } from '../rates/fit-rates.js'
import type { FleetHistory } from '../rates/fleet-history.js'
import { dueConsumption, type ObservedAnode } from '../rates/mass-states.js'
import type { RateContext } from '../rates/rate-design.js'
import { contextOf, type ObservedBoat } from '../rates/rate-intervals.js'
import { predictLogRate, type RateModel } from '../rates/rate-model.js'
import type { LinearTarget, Prediction } from '../statistics/mixed-model/types.js'
import { type FilteredConsumption, filterConsumption } from './filtered-mass.js'
import { predictiveNoiseVariance } from './predictive-noise.js'

/** What is believed of one anode from its last weighing on: the state it was in, and the rate it goes on with. */
export interface AnodeOutlook {
  readonly boat: ObservedBoat
  readonly anode: ObservedAnode
  readonly target: LinearTarget
  /** Log rate over the time to come, its noise included [log g/d]. */
  readonly logRate: Prediction
  /** Filtered consumption at each of its states. */
  readonly path: readonly FilteredConsumption[]
  /** The last of them: what is forecast starts here. */
  readonly last: FilteredConsumption
}

/**
 * The outlook of an anode at `model.asOf`. The rate is that of the berths from its last weighing to a year ahead; the season's
 * uncertainty counts over the time until it is likely to be due.
 */
export function outlookOf(model: RateModel, boat: ObservedBoat, anode: ObservedAnode): AnodeOutlook {
  const from = anode.states.at(-1)!.on
  const context = contextOf(boat, anode, from, Math.max(model.asOf, from) + FORECAST_CONTEXT_DAYS)
  const first = outlookIn(model, boat, anode, context)
  const dueDays = (dueConsumption(anode) - first.last.consumption) / Math.exp(first.logRate.mean)
  const dueDay = dueDays > 0 ? boat.calendar.dayAtExposure(from, dueDays, FORECAST_HORIZON_DAYS) : null
  if (dueDay === null) return first
  const { season } = boat.calendar.between(from, dueDay)
  return outlookIn(model, boat, anode, { ...context, exposure: { ...context.exposure, season } })
}

function outlookIn(model: RateModel, boat: ObservedBoat, anode: ObservedAnode, context: RateContext): AnodeOutlook {
  const target = model.design.target(context)
  const { mean, variance } = predictLogRate(model, target)
  const logRate = { mean, variance: variance + predictiveNoiseVariance(model) }
  const path = filterConsumption(anode.states, logRate)
  return { boat, anode, target, logRate, path, last: path.at(-1)! }
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
