import { OutOfRange } from '../errors.js'
import { designAlloy } from '../reference/anode-alloys.js'
import { type CurrentDemandKey, currentDemand } from '../reference/current-demand.js'
import {
  COATING_RENEWAL,
  DEMAND_SPREAD,
  FITTING_DEMAND,
  type FittingDemandRow,
  type FittingUse,
  SACRIFICIAL_GROUPS,
} from '../reference/fitting-demand.js'
import { type GalvanicMetal, galvanicMetal } from '../reference/galvanic-series.js'
import type { AnodeAlloy } from '../reference/vocabulary.js'
import { coatingFactors } from './coating-factors.js'
import { massRate } from './faraday.js'

const CM2_PER_M2 = 10_000

/** Underwater metal of a boat. `null` where nobody knows. */
export interface ProtectedFitting {
  readonly fitting: string
  readonly metal: GalvanicMetal | null
  /** Wetted area [cm²]. */
  readonly areaCm2: number | null
  /** Unknown counts as bare: the larger demand. */
  readonly coated: boolean | null
  /** Unknown counts as bonded, as metal under water on a boat with anodes usually is. */
  readonly bonded: boolean | null
  readonly use: FittingUse
}

/** What one fitting adds to the current. */
export interface FittingCurrent {
  readonly fitting: string
  readonly demand: CurrentDemandKey
  readonly areaM2: number
  /** Mean design current density, before the coating [A/m²]. */
  readonly densityAPerM2: number
  /** Share of the bare current that the coating lets through; 1 for bare metal and for rows of painted metal [–]. */
  readonly coatingFactor: number
  readonly currentA: number
}

/** A fitting left out of the sum, and why. */
export interface UnjudgedFitting {
  readonly fitting: string
  readonly reason: 'metal-unknown' | 'area-unknown' | 'not-bonded' | 'sacrificial' | 'no-published-demand'
}

/** The current a boat's bonded metals ask of its anodes. `unknown` when no fitting could be judged. */
export type ProtectionDemand =
  | {
      readonly kind: 'estimated'
      readonly currentA: number
      /** Standard deviation of the logarithm of the current [–]. */
      readonly logSd: number
      readonly fittings: readonly FittingCurrent[]
      readonly unjudged: readonly UnjudgedFitting[]
    }
  | { readonly kind: 'unknown'; readonly unjudged: readonly UnjudgedFitting[] }

/**
 * The current that the bonded underwater metals of a boat ask for.
 *
 *     I = Σ A·i·f,  f = a + b·t/2 while a + b·t ≤ 1, then 1 − (1 − a)²/(2·b·t)
 *
 * with A the area, i the mean design current density of the row that stands for the metal (`FITTING_DEMAND`: an assumption of
 * this project) and f the coating's mean breakdown over t years (category I; 1 where the row is of painted metal). For
 * seawater of a temperate coast; in fresher water the water's resistance holds the current below this. Fittings left out make
 * the sum a lower bound. Its error is a factor of 3 either way, common to the whole boat (`DEMAND_SPREAD`).
 *
 * @param fittings the boat's underwater metals
 * @param coatingYears years between renewals of the paint, t ≥ 0 [a]
 * @throws OutOfRange for an area that is not positive or a negative age
 * @see reference `rp-b401`, `study-guide-sheet`, `handbook-range`
 * @example protectionDemand([{ fitting: 'shaft', metal: 'stainless-316-passive', areaCm2: 2000, coated: false, bonded: true,
 *   use: 'at-rest' }]) // 0.2 m² × 0.05 A/m² = 0.01 A
 */
export function protectionDemand(
  fittings: readonly ProtectedFitting[],
  coatingYears: number = COATING_RENEWAL.years,
): ProtectionDemand {
  if (!(coatingYears >= 0 && coatingYears < Infinity))
    throw new OutOfRange('coating age', coatingYears, 'at least 0 years')
  const judged: FittingCurrent[] = []
  const unjudged: UnjudgedFitting[] = []
  for (const fitting of fittings) {
    const result = judge(fitting, coatingYears)
    if ('reason' in result) unjudged.push(result)
    else judged.push(result)
  }
  if (judged.length === 0) return { kind: 'unknown', unjudged }
  const currentA = judged.reduce((sum, { currentA }) => sum + currentA, 0)
  return { kind: 'estimated', currentA, logSd: Math.log(DEMAND_SPREAD.factor), fittings: judged, unjudged }
}

/**
 * Rate at which an anode of an alloy family loses mass at a current, with the design capacity of the family.
 *
 * @param currentA current I ≥ 0 [A]
 * @param alloy alloy family
 * @returns mass rate [g/d]
 * @throws OutOfRange for a negative current
 * @see `massRate`, `designAlloy`
 * @example physicsMassRate(0.05, 'zinc') // 1.538
 */
export function physicsMassRate(currentA: number, alloy: AnodeAlloy): number {
  return massRate(designAlloy(alloy).practicalAhPerKg, currentA)
}

/**
 * Whether a fitting's name says that water streams over it: `propeller` or `prop` as a word of its own or at the start of one,
 * but not its shaft. An assumption, for fittings known by name alone.
 *
 * @example fittingUseOf('propeller') // 'turning'
 */
export function fittingUseOf(name: string): FittingUse {
  return /\bprop/i.test(name) && !/\bshaft/i.test(name) ? 'turning' : 'at-rest'
}

function judge(fitting: ProtectedFitting, coatingYears: number): FittingCurrent | UnjudgedFitting {
  const { fitting: name, metal, areaCm2 } = fitting
  if (fitting.bonded === false) return { fitting: name, reason: 'not-bonded' }
  if (metal === null) return { fitting: name, reason: 'metal-unknown' }
  const { group } = galvanicMetal(metal)
  if (SACRIFICIAL_GROUPS.includes(group)) return { fitting: name, reason: 'sacrificial' }
  const row: FittingDemandRow | undefined = FITTING_DEMAND.find((candidate) => candidate.group === group)
  if (row === undefined) return { fitting: name, reason: 'no-published-demand' }
  if (areaCm2 === null) return { fitting: name, reason: 'area-unknown' }
  if (!(areaCm2 > 0 && areaCm2 < Infinity)) throw new OutOfRange(`area of ${name}`, areaCm2, 'above 0 cm²')

  const coated = fitting.coated === true
  const demand = demandRow(row, metal, fitting.use, coated)
  const coatingFactor = coated && row.painted === undefined ? coatingFactors('I', coatingYears).mean : 1
  const densityAPerM2 = currentDemand(demand).meanAPerM2
  const areaM2 = areaCm2 / CM2_PER_M2
  return {
    fitting: name,
    demand,
    areaM2,
    densityAPerM2,
    coatingFactor,
    currentA: areaM2 * densityAPerM2 * coatingFactor,
  }
}

function demandRow(row: FittingDemandRow, metal: GalvanicMetal, use: FittingUse, coated: boolean): CurrentDemandKey {
  if (coated && row.painted !== undefined) return row.painted
  if (use === 'at-rest') return row.bareAtRest
  return metal === 'nickel-aluminium-bronze' ? 'nickel-aluminium-bronze-propeller' : row.bareTurning
}
