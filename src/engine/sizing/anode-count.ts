import { OutOfRange } from '../errors.js'
import { ANODE_DESIGN } from '../reference/anode-design.js'
import { assertNotNegative, assertPositive, finite } from './ranges.js'

/** What the number of anodes has to satisfy. */
export const CRITERIA = ['mass', 'initial-current', 'final-current'] as const
export type Criterion = (typeof CRITERIA)[number]

/** How many anodes one criterion asks for. */
export interface CriterionCount {
  readonly criterion: Criterion
  /** Before rounding up [–]. */
  readonly raw: number
  readonly number: number
}

/** The number of anodes, and the criterion that asks for it. */
export interface AnodeCount {
  readonly number: number
  readonly decidedBy: Criterion
  readonly criteria: readonly CriterionCount[]
}

/** What one anode gives and what all must give together. */
export interface CountDemand {
  readonly requiredMassKg: number
  readonly anodeMassKg: number
  readonly initialCurrentA: number
  readonly anodeInitialCurrentA: number
  readonly finalCurrentA: number
  readonly anodeFinalCurrentA: number
}

/** Relative width within which a quotient counts as the whole number that it would be without rounding. */
const ROUNDING = 1e-9

/**
 * Current that an anode gives against its resistance.
 *
 *     I = (E_protected − E_anode)/R
 *
 * @param anodePotentialV closed-circuit potential of the anode, below the protected one [V, Ag/AgCl in seawater]
 * @param ohm resistance R > 0 [Ω]
 * @param protectedPotentialV potential of the protected metal; that of steel unless given [V, Ag/AgCl in seawater]
 * @returns current [A]
 * @throws OutOfRange outside those ranges
 * @see reference `harbour-calculation`; `rp-b401`, 7.8
 * @example anodeCurrent(-1.05, 0.25) // 1
 */
export function anodeCurrent(
  anodePotentialV: number,
  ohm: number,
  protectedPotentialV: number = ANODE_DESIGN.protectedPotential.value,
): number {
  if (!Number.isFinite(protectedPotentialV))
    throw new OutOfRange('protected potential', protectedPotentialV, 'a finite number of volts')
  assertPositive('resistance', ohm, 'Ω')
  if (!(anodePotentialV < protectedPotentialV && anodePotentialV > -Infinity))
    throw new OutOfRange('anode potential', anodePotentialV, `below the protected potential, ${protectedPotentialV} V`)
  return finite('current', (protectedPotentialV - anodePotentialV) / ohm, 'A')
}

/**
 * Number of anodes: the largest that mass, initial current and final current ask for, and at least one.
 *
 *     N = max(⌈M/m⌉, ⌈I_initial/Ia_initial⌉, ⌈I_final/Ia_final⌉)
 *
 * Rounded up: one handbook prints 32 for 32.1, a little less than was asked. Where two criteria ask for the same number, the
 * one with the larger quotient decides.
 *
 * @param demand required mass and currents, each at least 0, and those of one anode, each above 0 [kg, A]
 * @returns number, deciding criterion, and each criterion's own count
 * @throws OutOfRange outside those ranges
 * @see reference `rp-b401`, 7.8
 * @example anodeCount({ requiredMassKg: 10, anodeMassKg: 4, initialCurrentA: 1, anodeInitialCurrentA: 0.5,
 *   finalCurrentA: 1, anodeFinalCurrentA: 0.3 }).number // 4, for the final current
 */
export function anodeCount(demand: CountDemand): AnodeCount {
  const criteria: readonly CriterionCount[] = [
    count('mass', demand.requiredMassKg, demand.anodeMassKg, 'kg'),
    count('initial-current', demand.initialCurrentA, demand.anodeInitialCurrentA, 'A'),
    count('final-current', demand.finalCurrentA, demand.anodeFinalCurrentA, 'A'),
  ]
  const deciding = criteria.reduce((most, each) => (each.raw > most.raw ? each : most))
  return { number: Math.max(1, deciding.number), decidedBy: deciding.criterion, criteria }
}

function count(criterion: Criterion, wanted: number, each: number, unit: string): CriterionCount {
  assertNotNegative(`wanted ${criterion}`, wanted, unit)
  assertPositive(`${criterion} of an anode`, each, unit)
  const raw = finite('number of anodes', wanted / each, 'anodes')
  return { criterion, raw, number: Math.ceil(raw * (1 - ROUNDING)) }
}
