import type { ObservedAnode } from '../../rates/mass-states.js'
import type { ObservedBoat, RateInterval } from '../../rates/rate-intervals.js'
import type { RateModel } from '../../rates/rate-model.js'
import { designAlloy } from '../../reference/anode-alloys.js'
import type { BerthSurroundings, BoatFacts, FleetFacts } from '../fleet-facts.js'
import { type Casting, castingsOf } from './castings.js'
import { groupBy } from './groups.js'

/** An interval beside what its alloy, water, position and size alone let expect. */
export interface ComparedInterval {
  readonly boat: string
  readonly anode: string
  readonly from: number
  readonly to: number
  /** Most likely rate [g/d]. */
  readonly rate: number
  /** log of the rate over the one of the fixed effects alone: boat, berth and anode effects and faults are left in it. */
  readonly excess: number
  readonly interval: RateInterval
}

/** One boat as the diagnosis sees it; `facts` is empty where nothing beyond masses is known. */
export interface BoatView {
  readonly boat: string
  readonly facts: BoatFacts
  readonly observed: ObservedBoat | null
  readonly intervals: readonly ComparedInterval[]
  /** By anode: what it weighed in the mould of its place. */
  readonly castings: ReadonlyMap<string, Casting>
}

/** A fleet's rates and facts by boat and by berth, put together once for all its findings. */
export interface FleetView {
  readonly model: RateModel
  readonly boats: ReadonlyMap<string, BoatView>
  readonly boatOfAnode: ReadonlyMap<string, BoatView>
  readonly berths: ReadonlyMap<string, BerthSurroundings>
  /** Of new anodes by position. */
  readonly sizes: ReadonlyMap<string, FittedSizes>
}

/** Sizes of the new anodes of one position, ascending: sorted once, for every anode is held against them. */
export interface FittedSizes {
  /** [cm³] */
  readonly volumes: readonly number[]
  /** Where the demand is known [cm³/A]. */
  readonly perDemand: readonly number[]
}

/** How large an anode was when new, beside what its boat asks for. */
export interface FittedSize {
  readonly volumeCm3: number
  /** Over the published demand of the boat's metals, so that large boats and small ones compare [cm³/A]; `null` where that is unknown. */
  readonly perDemand: number | null
}

/** Net mass when new over the density of the declared alloy [cm³]: another alloy in the same mould is no smaller anode. */
export function volumeOf({ fitted }: ObservedAnode): number {
  return fitted.netMassG / designAlloy(fitted.alloy ?? 'zinc').densityGPerCm3
}

/** Joins the rates of a fleet with what else is known of it. */
export function viewFleet(model: RateModel, facts: FleetFacts): FleetView {
  const intervals = groupBy(compareIntervals(model), ({ boat }) => boat)
  const observed = new Map(model.boats.map((each) => [each.history.boat, each]))
  const known = new Map(facts.boats.map((each) => [each.boat, each]))
  const names = new Set([...observed.keys(), ...known.keys()])
  const boats = new Map(
    [...names].map((boat): [string, BoatView] => [
      boat,
      {
        boat,
        facts: known.get(boat) ?? noFacts(boat),
        observed: observed.get(boat) ?? null,
        intervals: intervals.get(boat) ?? [],
        castings: castingsOf(observed.get(boat)?.anodes ?? []),
      },
    ]),
  )
  return {
    model,
    boats,
    boatOfAnode: anodesOf(boats),
    berths: new Map(facts.berths.map((each) => [each.berth, each])),
    sizes: sizesByPosition(model),
  }
}

function sizesByPosition({ boats }: RateModel): Map<string, FittedSizes> {
  const anodes = groupBy(
    boats.flatMap(({ history, anodes: own }) => own.map((anode) => ({ history, anode }))),
    ({ anode }) => anode.history.position,
  )
  return new Map(
    [...anodes].map(([position, of]) => [position, inOrder(of.map(({ history, anode }) => sizeOf(history, anode)))]),
  )
}

function inOrder(sizes: readonly FittedSize[]): FittedSizes {
  const ascending = (values: number[]) => values.sort((a, b) => a - b)
  return {
    volumes: ascending(sizes.map(({ volumeCm3 }) => volumeCm3)),
    perDemand: ascending(sizes.flatMap(({ perDemand }) => perDemand ?? [])),
  }
}

/** The size of an anode, by itself and over its boat's demand. */
export function sizeOf({ demandCurrentA }: ObservedBoat['history'], anode: ObservedAnode): FittedSize {
  const volumeCm3 = volumeOf(anode)
  const isKnown = demandCurrentA !== null && demandCurrentA > 0
  return { volumeCm3, perDemand: isKnown ? volumeCm3 / demandCurrentA : null }
}

function anodesOf(boats: ReadonlyMap<string, BoatView>): Map<string, BoatView> {
  const byAnode = new Map<string, BoatView>()
  for (const view of boats.values()) {
    for (const anode of view.observed?.history.anodes ?? []) byAnode.set(anode.key, view)
    for (const anode of view.facts.anodes) byAnode.set(anode.key, view)
  }
  return byAnode
}

function compareIntervals(model: RateModel): ComparedInterval[] {
  const estimates = model.fit?.fixed.map(({ estimate }) => estimate) ?? []
  return model.intervals.map((interval, row) => {
    const { fixed } = model.design.target(interval.context)
    const expected = fixed.reduce((total, x, column) => total + x * (estimates[column] ?? 0), 0)
    const logRate = model.logRates[row]!
    return {
      boat: interval.context.boat,
      anode: interval.context.anode.history.key,
      from: interval.from.on,
      to: interval.to.on,
      rate: Math.exp(logRate),
      excess: logRate - expected,
      interval,
    }
  })
}

function noFacts(boat: string): BoatFacts {
  return { boat, hull: null, hasIsolator: null, fittings: [], stays: [], potentials: [], continuity: [], anodes: [] }
}
