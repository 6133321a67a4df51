import type { ReferenceElectrode, Water } from '../reference/vocabulary.js'

/**
 * What is known of a fleet beyond masses and stays: what a diagnosis weighs. Plain values, dates as day numbers (days since
 * 1970-01-01), boats, berths and pontoons by name, anodes by the keys of `FleetHistory`. `null` is "nobody knows".
 */
export interface FleetFacts {
  readonly berths: readonly BerthSurroundings[]
  readonly boats: readonly BoatFacts[]
}

export interface BerthSurroundings {
  readonly berth: string
  readonly pontoon: string | null
  readonly water: Water | null
  readonly salinityPsu: number | null
  readonly hasShorePower: boolean | null
}

export interface BoatFacts {
  readonly boat: string
  readonly hull: string | null
  readonly hasIsolator: boolean | null
  readonly fittings: readonly FittingFacts[]
  readonly stays: readonly ShorePowerStay[]
  readonly potentials: readonly PotentialReading[]
  readonly continuity: readonly ContinuityReading[]
  readonly anodes: readonly AnodeFacts[]
}

export interface FittingFacts {
  readonly fitting: string
  /** Key of the galvanic series. */
  readonly metal: string | null
  readonly areaCm2: number | null
  readonly coated: boolean | null
  readonly bonded: boolean | null
}

/** [from, to) as in `Stay`, with the hours a day on the shore lead. */
export interface ShorePowerStay {
  readonly from: number
  readonly to: number | null
  readonly berth: string | null
  readonly hoursPerDay: number | null
}

export interface PotentialReading {
  readonly on: number
  /** `null` is the bonded hull. */
  readonly fitting: string | null
  readonly reference: ReferenceElectrode | null
  /** As read, against `reference` [V]. */
  readonly volts: number
  readonly shorePower: 'connected' | 'disconnected' | null
  readonly circuits: 'on' | 'off' | null
}

/** Between two fittings, anodes or `bond`, by name. */
export interface ContinuityReading {
  readonly on: number
  readonly from: string
  readonly to: string
  readonly ohms: number
}

export interface AnodeFacts {
  readonly key: string
  readonly anode: string
  readonly bonded: boolean | null
  /** Every weighing that says more than a mass, by date. */
  readonly looks: readonly AnodeLook[]
}

export interface AnodeLook {
  readonly on: number
  /** Condition codes of the anode and of the metal around it. */
  readonly conditions: readonly string[]
  /** Gross, on the scale in air and hung in water [g]. */
  readonly dryMassG: number | null
  readonly submergedMassG: number | null
  readonly submergedIn: 'salt' | 'fresh' | null
  readonly resolutionG: number | null
}
