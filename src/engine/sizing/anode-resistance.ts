import { OutOfRange } from '../errors.js'
import { ANODE_DESIGN } from '../reference/anode-design.js'
import { assertNotNegative, assertPositive, finite } from './ranges.js'

/** Formulas of the resistance between an anode and the water far away. */
export const RESISTANCE_FORMULAS = ['slender', 'short-slender', 'flush-plate', 'bracelet'] as const
export type ResistanceFormula = (typeof RESISTANCE_FORMULAS)[number]

/**
 * Resistance of a long rod clear of the metal (modified Dwight).
 *
 *     R = ρ/(2πL)·(ln(4L/r) − 1)
 *
 * For L ≥ 4r and at least 0.30 m from the metal (`standOffFactor` for less). A section that is not round has r = c/2π, c its
 * perimeter. At L = 4r it lies 6 % below `shortSlenderResistance`: a step in the practice, not in this code.
 *
 * @param resistivityOhmM resistivity of the water ρ > 0 [Ω·m]
 * @param lengthM length L ≥ 4r [m]
 * @param radiusM radius r > 0 [m]
 * @returns resistance [Ω]
 * @throws OutOfRange outside those ranges
 * @see reference `rp-b401`, Table 10-7; `anode-r-note`; `mil-hdbk-1004-10-p211`
 * @example slenderResistance(0.3, 1, 0.05) // 0.16148
 */
export function slenderResistance(resistivityOhmM: number, lengthM: number, radiusM: number): number {
  assertRod(resistivityOhmM, lengthM, radiusM)
  const least = ANODE_DESIGN.slenderFromLengthPerRadius.value
  if (!isSlender(lengthM, radiusM)) throw new OutOfRange('length', lengthM, `at least ${least} times the radius`)
  return finite(
    'resistance',
    (resistivityOhmM / (2 * Math.PI * lengthM)) * (Math.log((4 * lengthM) / radiusM) - 1),
    'Ω',
  )
}

/**
 * Resistance of a short rod clear of the metal.
 *
 *     R = ρ/(2πL)·(ln((2L/r)·(1 + q)) + r/2L − q),  q = √(1 + (r/2L)²)
 *
 * For L < 4r. From memory of the practice's table.
 *
 * @param resistivityOhmM resistivity of the water ρ > 0 [Ω·m]
 * @param lengthM length L, above 0 and below 4r [m]
 * @param radiusM radius r > 0 [m]
 * @returns resistance [Ω]
 * @throws OutOfRange outside those ranges
 * @see reference `rp-b401`, Table 10-7
 * @example shortSlenderResistance(0.25, 0.1999, 0.05) // 0.377
 */
export function shortSlenderResistance(resistivityOhmM: number, lengthM: number, radiusM: number): number {
  assertRod(resistivityOhmM, lengthM, radiusM)
  const most = ANODE_DESIGN.slenderFromLengthPerRadius.value
  if (isSlender(lengthM, radiusM)) throw new OutOfRange('length', lengthM, `below ${most} times the radius`)
  const half = radiusM / (2 * lengthM)
  const q = Math.sqrt(1 + half ** 2)
  const shape = Math.log((1 + q) / half) + half - q
  return finite('resistance', (resistivityOhmM / (2 * Math.PI * lengthM)) * shape, 'Ω')
}

/**
 * Resistance of a long plate on the metal (Lloyd).
 *
 *     R = ρ/(2S)
 *
 * For a plate at least four times as long as wide and as thick, closer than 0.15 m to the metal; a shorter one is a
 * `bracelet`. The sides themselves are not seen here: the caller judges (`isLongPlate`).
 *
 * @param resistivityOhmM resistivity of the water ρ > 0 [Ω·m]
 * @param meanSideM mean of length and width S > 0 [m]
 * @returns resistance [Ω]
 * @throws OutOfRange outside those ranges
 * @see reference `rp-b401`, Table 10-7; `anode-r-note`
 * @example flushPlateResistance(0.25, 0.5) // 0.25
 */
export function flushPlateResistance(resistivityOhmM: number, meanSideM: number): number {
  assertPositive('resistivity', resistivityOhmM, 'Ω·m')
  assertPositive('mean side', meanSideM, 'm')
  return finite('resistance', resistivityOhmM / (2 * meanSideM), 'Ω')
}

/**
 * Resistance of a bracelet or any other anode on the metal: short plate, disc, shaft collar, hub cone (McCoy).
 *
 *     R = 0.315·ρ/√A
 *
 * @param resistivityOhmM resistivity of the water ρ > 0 [Ω·m]
 * @param exposedAreaM2 surface that the water reaches A > 0 [m²]
 * @returns resistance [Ω]
 * @throws OutOfRange outside those ranges
 * @see reference `rp-b401`, Table 10-7; `anode-r-note`; `pipeline-report`
 * @example braceletResistance(0.25, 0.09) // 0.2625
 */
export function braceletResistance(resistivityOhmM: number, exposedAreaM2: number): number {
  assertPositive('resistivity', resistivityOhmM, 'Ω·m')
  assertPositive('exposed area', exposedAreaM2, 'm²')
  return finite('resistance', (ANODE_DESIGN.mccoyFactor.value * resistivityOhmM) / Math.sqrt(exposedAreaM2), 'Ω')
}

/**
 * What the resistance of a rod is multiplied by for the metal near it: 1 from 0.30 m on, 1.3 from 0.15 m on.
 *
 * @param distanceM distance to the metal, at least 0.15: closer it is a flush anode [m]
 * @returns factor [–]
 * @throws OutOfRange below that
 * @see reference `rp-b401`, Table 10-7; `anode-r-note`
 * @example standOffFactor(0.2) // 1.3
 */
export function standOffFactor(distanceM: number): number {
  const { flushBelowM, clearFromM, nearFactor } = ANODE_DESIGN
  assertNotNegative('distance', distanceM, 'm')
  if (distanceM < flushBelowM.value)
    throw new OutOfRange('distance', distanceM, `at least ${flushBelowM.value} m: closer it is a flush anode`)
  return distanceM >= clearFromM.value ? 1 : nearFactor.value
}

/** Whether a rod is slender: L ≥ 4r. @see `ANODE_DESIGN` */
export function isSlender(lengthM: number, radiusM: number): boolean {
  return lengthM >= ANODE_DESIGN.slenderFromLengthPerRadius.value * radiusM
}

/** Whether a plate is long: at least four times as long as wide and as thick. @see `ANODE_DESIGN` */
export function isLongPlate(lengthM: number, widthM: number, thicknessM: number): boolean {
  return lengthM >= ANODE_DESIGN.longFromLengthPerWidth.value * Math.max(widthM, thicknessM)
}

function assertRod(resistivityOhmM: number, lengthM: number, radiusM: number): void {
  assertPositive('resistivity', resistivityOhmM, 'Ω·m')
  assertPositive('length', lengthM, 'm')
  assertPositive('radius', radiusM, 'm')
}
