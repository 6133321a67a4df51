import { type AnodeAlloyRow, designAlloy } from '../reference/anode-alloys.js'
import { ANODE_DESIGN } from '../reference/anode-design.js'
import type { AnodeAlloy } from '../reference/vocabulary.js'
import { type AnodeCount, anodeCount, anodeCurrent } from './anode-count.js'
import {
  type AnodeShape,
  anodeMass,
  finalResistance,
  initialResistance,
  type Resistance,
  utilisationOf,
} from './anode-shape.js'
import type { ProtectionCurrent } from './protection-current.js'
import { assertPositive } from './ranges.js'
import { lifeYears, requiredMass } from './required-mass.js'

/** What anodes are sized for. */
export interface SizingTask {
  readonly current: ProtectionCurrent
  /** Life wanted, above 0 [a]. */
  readonly years: number
  readonly alloy: AnodeAlloy
  /** Of the water, above 0 [Ω·m]. */
  readonly resistivityOhmM: number
  readonly anode: AnodeShape
}

/** One anode, new and used up. */
export interface SizedAnode {
  /** Net mass when new [kg]. */
  readonly massKg: number
  readonly initial: Resistance
  readonly final: Resistance
  /** Currents against those resistances [A]. */
  readonly initialCurrentA: number
  readonly finalCurrentA: number
}

/** The answer: how many anodes, and all that it rests on. */
export interface Sizing extends AnodeCount {
  readonly requiredMassKg: number
  readonly utilisation: number
  readonly capacityAhPerKg: number
  readonly drivingVoltageV: number
  readonly anode: SizedAnode
  readonly totalMassKg: number
  /** Life of that number by their mass, to the utilisation factor [a]. */
  readonly lifeYears: number
}

/**
 * Sizes the anodes of a boat or structure: required mass, resistance and current of one anode new and used up, and the number
 * that satisfies mass, initial and final current.
 *
 *     N = max(⌈M/m⌉, ⌈I_initial/Ia_initial⌉, ⌈I_final/Ia_final⌉),  M = I_mean·t·8760/(u·ε),  Ia = ΔE/R
 *
 * The driving voltage ΔE is counted from protected steel; capacities and potentials are the design values of the alloy family in
 * seawater. Anodes are taken to lie far enough apart not to shield each other. A first estimate for people who know the trade.
 *
 * @param task currents, life, alloy, water and shape
 * @returns the number of anodes, the criterion that decides, and what it rests on
 * @throws OutOfRange outside the ranges of the formulas
 * @see reference `rp-b401`, 7.4-7.9; `harbour-calculation`
 * @example sizeAnodes({ current: { initialA: 1, meanA: 0.5, finalA: 0.7 }, years: 2, alloy: 'aluminium', resistivityOhmM: 0.25,
 *   anode: { shape: 'plate', lengthM: 0.5, widthM: 0.1, thicknessM: 0.04 } }).number // 2
 */
export function sizeAnodes({ current, years, alloy, resistivityOhmM, anode }: SizingTask): Sizing {
  assertPositive('life', years, 'years')
  assertPositive('mean current', current.meanA, 'A')
  const row = designAlloy(alloy)
  const utilisation = utilisationOf(anode).utilisationFactor
  const capacityAhPerKg = row.practicalAhPerKg
  const requiredMassKg = requiredMass(current.meanA, years, capacityAhPerKg, utilisation)
  const sized = sizeOne(anode, row, resistivityOhmM)
  const counted = anodeCount({
    requiredMassKg,
    anodeMassKg: sized.massKg,
    initialCurrentA: current.initialA,
    anodeInitialCurrentA: sized.initialCurrentA,
    finalCurrentA: current.finalA,
    anodeFinalCurrentA: sized.finalCurrentA,
  })
  const totalMassKg = counted.number * sized.massKg
  return {
    ...counted,
    requiredMassKg,
    utilisation,
    capacityAhPerKg,
    drivingVoltageV: ANODE_DESIGN.protectedPotential.value - row.closedCircuitVAgAgcl,
    anode: sized,
    totalMassKg,
    lifeYears: lifeYears(totalMassKg, current.meanA, capacityAhPerKg, utilisation),
  }
}

function sizeOne(anode: AnodeShape, row: AnodeAlloyRow, resistivityOhmM: number): SizedAnode {
  const initial = initialResistance(anode, resistivityOhmM)
  const final = finalResistance(anode, resistivityOhmM)
  return {
    massKg: anodeMass(anode, row.densityGPerCm3),
    initial,
    final,
    initialCurrentA: anodeCurrent(row.closedCircuitVAgAgcl, initial.ohm),
    finalCurrentA: anodeCurrent(row.closedCircuitVAgAgcl, final.ohm),
  }
}
