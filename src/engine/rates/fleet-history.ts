import type { MassJudgement } from '../depletion/mass-observation.js'
import type { Dimensions } from '../depletion/shapes.js'
import type { AnodeAlloy, Water } from '../reference/vocabulary.js'

/**
 * What the engine is told of a fleet: plain values, dates as day numbers (days since 1970-01-01), names as keys. `null`
 * is "nobody knows".
 */
export interface FleetHistory {
  readonly berths: readonly BerthFacts[]
  readonly boats: readonly BoatHistory[]
}

export interface BerthFacts {
  readonly berth: string
  readonly water: Water | null
  /** Degrees, north positive: how strong the seasons are. */
  readonly latitude: number | null
}

export interface BoatHistory {
  readonly boat: string
  readonly stays: readonly Stay[]
  readonly haulOuts: readonly HaulOut[]
  readonly anodes: readonly AnodeHistory[]
  /** The current that its bonded metals ask for by published densities [A]; `null` where no fitting could be judged. */
  readonly demandCurrentA: number | null
}

/** [from, to): the day of leaving belongs to the next stay; `to: null` goes on; `berth: null` is ashore. */
export interface Stay {
  readonly from: number
  readonly to: number | null
  readonly berth: string | null
}

/** Out of the water over [on, relaunchedOn); without a relaunch the lift took less than a day. */
export interface HaulOut {
  readonly on: number
  readonly relaunchedOn: number | null
  readonly planned: boolean
}

export interface AnodeHistory {
  /** Unique in the fleet. */
  readonly key: string
  readonly anode: string
  readonly position: string
  readonly alloy: AnodeAlloy | null
  readonly shape: string | null
  readonly fittedOn: number | null
  readonly removedOn: number | null
  readonly fittedGrossMassG: number | null
  readonly coreMassG: number | null
  readonly dimensions: Dimensions
  /** Consumed fraction at which it is due, in (0, 1). */
  readonly threshold: number
  /** By date, one a day. */
  readonly weighings: readonly DatedJudgement[]
  /** Spans of wear that somebody has looked into. */
  readonly explained?: readonly ExplainedSpan[]
}

/** [from, to) of an anode's life in which its wear is explained; `to: null` goes on. */
export interface ExplainedSpan {
  /** `-Infinity`: from the first day on. */
  readonly from: number
  readonly to: number | null
  /** A fault says nothing of ordinary rates; wear that was looked into and found to be ordinary does. */
  readonly by: 'fault' | 'ordinary'
}

export interface DatedJudgement {
  readonly on: number
  readonly judgement: MassJudgement
}
