import { ExposureCalendar } from '../rates/exposure-calendar.js'
import type { BoatHistory, HaulOut, Stay } from '../rates/fleet-history.js'
import { observeBoat } from '../rates/rate-intervals.js'
import type { RateModel } from '../rates/rate-model.js'
import { SeasonClock } from '../rates/season.js'
import { outlookOf } from './anode-outlook.js'
import { type AnodeForecast, forecastAnode } from './forecast-anode.js'
import { followPresent, NO_PRESENT_RATES, type PresentRates } from './present-rate.js'

/** What might be planned for a boat from a day on. */
export interface Plan {
  /** In order, none before `model.asOf`; after the last one the boat stays where it is then. */
  readonly stays: readonly Stay[]
  /** Lifts to plan beside those that are planned already. */
  readonly haulOuts: readonly HaulOut[]
}

/**
 * The forecasts of a boat's anodes along planned stays: what a change of berth, or a stay ashore, would do. The past is as it was;
 * the rate is that of the berths to come, by the fleet's fit.
 *
 * @param boat the boat's name
 * @param present of anodes under an open fault, which go on as they do now
 * @returns by anode key; `null` where the model has no such boat
 */
export function forecastPlan(
  model: RateModel,
  boat: string,
  plan: Plan,
  present: PresentRates = NO_PRESENT_RATES,
): Map<string, AnodeForecast> | null {
  const now = model.boats.find(({ history }) => history.boat === boat)
  if (now === undefined) return null
  const history = replan(now.history, plan, model.asOf)
  const calendar = new ExposureCalendar(history, model.asOf, new SeasonClock(model.observation.season))
  const planned = observeBoat(history, calendar, model.observation)
  const inPlace = planned.anodes.filter(({ history: { removedOn } }) => (removedOn ?? Infinity) > model.asOf)
  return new Map(
    inPlace.map((anode) => {
      const { key } = anode.history
      return [key, forecastAnode(model, followPresent(outlookOf(model, planned, anode), present.get(key)))] as const
    }),
  )
}

/** The stays as they were until the plan begins, then the plan. */
function replan(history: BoatHistory, plan: Plan, asOf: number): BoatHistory {
  const begin = plan.stays[0]?.from ?? Infinity
  const before = history.stays
    .filter(({ from }) => from < begin)
    .map((stay) => ({ ...stay, to: Math.min(stay.to ?? Infinity, begin) }))
    .map((stay) => ({ ...stay, to: stay.to === Infinity ? null : stay.to }))
  // A lift that the plan reaches past says nothing against the plan's own stays.
  const lifts = history.haulOuts.map((lift) =>
    lift.on >= asOf || (lift.relaunchedOn ?? 0) > begin ? { ...lift, relaunchedOn: null } : lift,
  )
  return { ...history, stays: [...before, ...plan.stays], haulOuts: [...lifts, ...plan.haulOuts] }
}
