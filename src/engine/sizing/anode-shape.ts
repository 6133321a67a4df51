import { OutOfRange } from '../errors.js'
import { ANODE_DESIGN } from '../reference/anode-design.js'
import { type AnodeUtilisationRow, anodeUtilisation } from '../reference/anode-utilisation.js'
import {
  braceletResistance,
  flushPlateResistance,
  isLongPlate,
  isSlender,
  type ResistanceFormula,
  shortSlenderResistance,
  slenderResistance,
  standOffFactor,
} from './anode-resistance.js'
import { assertNotNegative, assertPositive } from './ranges.js'

const KG_PER_M3 = 1000

/** Shape and size of one anode when new. */
export type AnodeShape =
  | {
      /** A rod held clear of the metal. */
      readonly shape: 'rod'
      readonly lengthM: number
      readonly radiusM: number
      /** Radius of the steel core through it; 0 without [m]. */
      readonly coreRadiusM: number
      /** From the metal, at least 0.15 [m]. */
      readonly distanceM: number
    }
  | {
      /** A plate on the metal. */
      readonly shape: 'plate'
      readonly lengthM: number
      readonly widthM: number
      readonly thicknessM: number
    }
  | {
      /** A bracelet, disc, shaft collar or hub cone: by its net mass and the surface that the water reaches. */
      readonly shape: 'other'
      readonly massKg: number
      readonly exposedAreaM2: number
    }

/** The resistance of an anode and the formula that it comes from. */
export interface Resistance {
  readonly ohm: number
  readonly formula: ResistanceFormula
}

/**
 * Net mass of a new anode.
 *
 *     m = density·volume without the core
 *
 * @param anode shape and size; each above 0, the core thinner than the rod [m]
 * @param densityGPerCm3 density of its alloy, above 0 [g/cm³]
 * @returns net mass [kg]
 * @throws OutOfRange outside those ranges
 * @see reference `rp-b401`, 7.9
 * @example anodeMass({ shape: 'plate', lengthM: 0.3, widthM: 0.1, thicknessM: 0.04 }, 2.75) // 3.3
 */
export function anodeMass(anode: AnodeShape, densityGPerCm3: number): number {
  assertPositive('density', densityGPerCm3, 'g/cm³')
  if (anode.shape !== 'other') return anodeVolume(anode) * densityGPerCm3 * KG_PER_M3
  assertPositive('mass of an anode', anode.massKg, 'kg')
  return anode.massKg
}

/**
 * Resistance of a new anode, by the formula that its shape and proportions ask for.
 *
 * Rods: slender or short, times 1.3 within 0.30 m of the metal. Plates: long ones by their mean side, others by their exposed
 * faces (all but the one on the metal). Everything else by its exposed area.
 *
 * @param anode shape and size [m]
 * @param resistivityOhmM resistivity of the water, above 0 [Ω·m]
 * @returns resistance [Ω] and its formula
 * @throws OutOfRange outside the ranges of the formulas
 * @see reference `rp-b401`, Table 10-7; `anode-r-note`
 * @example initialResistance({ shape: 'rod', lengthM: 1, radiusM: 0.05, coreRadiusM: 0, distanceM: 0.3 }, 0.3).ohm // 0.16148
 */
export function initialResistance(anode: AnodeShape, resistivityOhmM: number): Resistance {
  if (anode.shape === 'rod') return rodResistance(resistivityOhmM, anode.lengthM, anode.radiusM, anode.distanceM)
  if (anode.shape === 'other')
    return { ohm: braceletResistance(resistivityOhmM, anode.exposedAreaM2), formula: 'bracelet' }
  assertSides(anode)
  const { lengthM, widthM, thicknessM } = anode
  if (isLongPlate(lengthM, widthM, thicknessM))
    return { ohm: flushPlateResistance(resistivityOhmM, (lengthM + widthM) / 2), formula: 'flush-plate' }
  const faces = lengthM * widthM + 2 * thicknessM * (lengthM + widthM)
  return { ohm: braceletResistance(resistivityOhmM, faces), formula: 'bracelet' }
}

/**
 * Resistance of an anode used up to its utilisation factor, from what is left of it.
 *
 * A rod keeps 0.9 of its length and a round section of what is left round its core; a long plate becomes half a cylinder on
 * the metal, 0.9 as long; a short plate exposes the face towards the water, everything else the same area as when new. From
 * memory of the practice.
 *
 * @param anode shape and size when new [m]
 * @param resistivityOhmM resistivity of the water, above 0 [Ω·m]
 * @returns resistance [Ω] and its formula
 * @throws OutOfRange outside the ranges of the formulas
 * @see reference `rp-b401`, 7.9
 * @example finalResistance({ shape: 'plate', lengthM: 0.5, widthM: 0.1, thicknessM: 0.04 }, 0.25).ohm // 0.509
 */
export function finalResistance(anode: AnodeShape, resistivityOhmM: number): Resistance {
  const initial = initialResistance(anode, resistivityOhmM)
  if (anode.shape === 'other') return initial
  const volumeLeft = anodeVolume(anode) * (1 - utilisationOf(anode).utilisationFactor)
  const lengthM = anode.lengthM * ANODE_DESIGN.lengthKeptWhenDepleted.value
  if (anode.shape === 'rod') {
    const radiusM = Math.sqrt(volumeLeft / (Math.PI * lengthM) + anode.coreRadiusM ** 2)
    return rodResistance(resistivityOhmM, lengthM, radiusM, anode.distanceM)
  }
  if (initial.formula !== 'flush-plate')
    return { ohm: braceletResistance(resistivityOhmM, anode.lengthM * anode.widthM), formula: 'bracelet' }
  const widthM = 2 * Math.sqrt((2 * volumeLeft) / (Math.PI * lengthM))
  return { ohm: flushPlateResistance(resistivityOhmM, (lengthM + widthM) / 2), formula: 'flush-plate' }
}

/** The row of the utilisation factors that a shape falls under. */
export function utilisationOf(anode: AnodeShape): AnodeUtilisationRow {
  if (anode.shape === 'rod')
    return anodeUtilisation(
      isSlender(anode.lengthM, anode.radiusM) ? 'long-slender-stand-off' : 'short-slender-stand-off',
    )
  const isLong = anode.shape === 'plate' && isLongPlate(anode.lengthM, anode.widthM, anode.thicknessM)
  return anodeUtilisation(isLong ? 'long-flush-mounted' : 'short-flush-bracelet-other')
}

function rodResistance(resistivityOhmM: number, lengthM: number, radiusM: number, distanceM: number): Resistance {
  const formula = isSlender(lengthM, radiusM) ? 'slender' : 'short-slender'
  const resistance = formula === 'slender' ? slenderResistance : shortSlenderResistance
  return { ohm: resistance(resistivityOhmM, lengthM, radiusM) * standOffFactor(distanceM), formula }
}

function anodeVolume(anode: Exclude<AnodeShape, { shape: 'other' }>): number {
  if (anode.shape === 'plate') {
    assertSides(anode)
    return anode.lengthM * anode.widthM * anode.thicknessM
  }
  assertPositive('length', anode.lengthM, 'm')
  assertPositive('radius', anode.radiusM, 'm')
  assertNotNegative('core radius', anode.coreRadiusM, 'm')
  if (anode.coreRadiusM >= anode.radiusM) throw new OutOfRange('core radius', anode.coreRadiusM, 'below the radius')
  return Math.PI * (anode.radiusM ** 2 - anode.coreRadiusM ** 2) * anode.lengthM
}

function assertSides({ lengthM, widthM, thicknessM }: Extract<AnodeShape, { shape: 'plate' }>): void {
  assertPositive('length', lengthM, 'm')
  assertPositive('width', widthM, 'm')
  assertPositive('thickness', thicknessM, 'm')
}
