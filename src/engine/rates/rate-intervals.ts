import { ExposureCalendar } from './exposure-calendar.js'
import type { BoatHistory, ExplainedSpan, FleetHistory } from './fleet-history.js'
import { type MassState, type ObservedAnode, observeAnode, varianceOfLoss } from './mass-states.js'
import type { ObservationModel } from './observation-model.js'
import { logDemandRatio, type RateContext } from './rate-design.js'
import { DAYS_PER_YEAR, SeasonClock } from './season.js'
import { usualGrossMass } from './usual-mass.js'

/** Two successive states of one anode with the exposure between them: one row of the rate model. */
export interface RateInterval {
  readonly context: RateContext
  readonly from: MassState
  readonly to: MassState
  /** Observed consumption u between them [g]: may be negative. */
  readonly consumption: number
  /** Whether somebody has looked into its wear: a fault does not count in the fit, and what is over is not looked into again. */
  readonly explained: 'not' | 'fault-goes-on' | 'fault-is-over' | 'ordinary'
}

/** A boat's anodes as observed, with its calendar. */
export interface ObservedBoat {
  readonly history: BoatHistory
  readonly calendar: ExposureCalendar
  readonly anodes: readonly ObservedAnode[]
  /** By anode key; `null` where the demand is unknown. */
  readonly logDemand: ReadonlyMap<string, number | null>
}

/** Everything observed in a fleet up to `asOf`; anodes of which no mass is known are left out. */
export function observeFleet(fleet: FleetHistory, asOf: number, model: ObservationModel): ObservedBoat[] {
  const clock = new SeasonClock(model.season)
  return fleet.boats.map((boat) => observeBoat(boat, new ExposureCalendar(boat, asOf, clock), model))
}

/** The same for one boat, along a calendar of its own or of what might be. */
export function observeBoat(history: BoatHistory, calendar: ExposureCalendar, model: ObservationModel): ObservedBoat {
  const anodes = history.anodes.flatMap(
    (anode) => observeAnode(anode, calendar, model, usualGrossMass(anode, history.anodes)) ?? [],
  )
  return { history, calendar, anodes, logDemand: demandOfAnodes(history, anodes) }
}

/** The intervals of a boat's anodes, anode by anode, in order of time. */
export function intervalsOf(boat: ObservedBoat): RateInterval[] {
  return boat.anodes.flatMap((anode) =>
    anode.states.slice(1).map((to, index) => {
      const from = anode.states[index]!
      return {
        context: contextOf(boat, anode, from.on, to.on),
        from,
        to,
        consumption: to.consumption - from.consumption,
        explained: explanationOf(anode.history.explained ?? [], from.on, to.on),
      }
    }),
  )
}

/** Of an interval that an explained span reaches into; a fault goes before what was in order. */
function explanationOf(spans: readonly ExplainedSpan[], from: number, to: number): RateInterval['explained'] {
  const within = spans.filter((span) => span.from < to && (span.to ?? Infinity) > from)
  const fault = within.find(({ by }) => by === 'fault')
  if (fault !== undefined) return fault.to === null ? 'fault-goes-on' : 'fault-is-over'
  return within.length > 0 ? 'ordinary' : 'not'
}

/** Whether an interval counts in the fit of ordinary rates. */
export function countsInFit({ explained }: Pick<RateInterval, 'explained'>): boolean {
  return explained === 'not' || explained === 'ordinary'
}

/** Beside any loss: an interval with an error of so many times the anode's whole mass tells the fit nothing. */
const UNTOLD_MASSES = 1000

/** Variance of the error of an interval's loss in the fit [g²]; beyond all measure where it does not count. */
export function fittedVariance(interval: RateInterval): number {
  const { consumption, from, to, context } = interval
  const variance = varianceOfLoss(consumption, from.variance + to.variance)
  return countsInFit(interval) ? variance : variance + (UNTOLD_MASSES * context.anode.fitted.netMassG) ** 2
}

/** The context of an anode over [from, to). */
export function contextOf(boat: ObservedBoat, anode: ObservedAnode, from: number, to: number): RateContext {
  return {
    boat: boat.history.boat,
    anode,
    exposure: boat.calendar.between(from, to),
    ageYears: ageYears(anode, (from + to) / 2),
    logDemand: boat.logDemand.get(anode.history.key) ?? null,
  }
}

/** Since it was fitted, or first weighed where nobody knows [years]. */
export function ageYears({ states }: ObservedAnode, on: number): number {
  return Math.max(0, on - states[0]!.on) / DAYS_PER_YEAR
}

/** Surface of a body goes with its mass to this power. */
const SURFACE_EXPONENT = 2 / 3

function demandOfAnodes(boat: BoatHistory, anodes: readonly ObservedAnode[]): Map<string, number | null> {
  const current = boat.demandCurrentA
  return new Map(
    anodes.map((anode) => {
      if (current === null || !(current > 0)) return [anode.history.key, null]
      const neighbours = anodes.filter((other) => overlap(anode, other))
      const surface = (each: ObservedAnode) => each.fitted.netMassG ** SURFACE_EXPONENT
      const share = surface(anode) / neighbours.reduce((sum, each) => sum + surface(each), 0)
      return [anode.history.key, logDemandRatio(current, share, anode.fitted.netMassG, anode.history.alloy)]
    }),
  )
}

/** Whether two anodes were in place together, at the first one's fitting. */
function overlap(anode: ObservedAnode, other: ObservedAnode): boolean {
  const at = anode.states[0]!.on
  return other === anode || (other.states[0]!.on <= at && (other.history.removedOn ?? Infinity) > at)
}
