import { OutOfRange } from '../errors.js'
import { GALVANIC_AUDIT_FIGURES } from '../reference/galvanic-grades.js'
import {
  GALVANIC_METALS,
  type GalvanicMetal,
  type GalvanicRow,
  galvanicMetal,
  midpointVSce,
} from '../reference/galvanic-series.js'
import type { Water } from '../reference/vocabulary.js'
import { type CoupleGrade, gradeCouple } from './grade.js'
import { reasonsOf } from './reason.js'
import type { Reason } from './reason-codes.js'

/** A metal in the water, with its wetted area; `null` where nobody measured it. */
export interface WettedMetal {
  readonly metal: GalvanicMetal
  /** [cm²] */
  readonly areaCm2: number | null
  /** Share of the area that the water reaches as if bare, for painted metal [cm²]; the area itself unless given. */
  readonly exposedCm2?: number | null
}

/** A difference of potential as the ranges of the series leave it [V]. */
export interface VoltRange {
  readonly low: number
  readonly high: number
}

/** What two connected metals do to each other. */
export interface Couple {
  /** The nobler of the two by the middles of their ranges, and the one that wastes for it. */
  readonly cathode: WettedMetal
  readonly anode: WettedMetal
  /** False where the ranges overlap, so that either may be the anode. */
  readonly areRolesCertain: boolean
  readonly deltaVolts: VoltRange
  /** Difference of the middles of the ranges, which the grade goes by [V]. */
  readonly typicalVolts: number
  /** Area of the cathode over that of the anode; `null` where one is unknown [–]. */
  readonly areaRatio: number | null
  /** The same of the areas that the water reaches as if bare [–]. */
  readonly exposedRatio: number | null
  readonly grade: CoupleGrade
  readonly reasons: readonly Reason[]
}

/** A couple of two metals of which one may lose its passive film, and what becomes of it then. */
export interface FilmedCouple extends Couple {
  readonly whenFilmLost: readonly (Couple & { readonly active: GalvanicMetal })[]
}

/**
 * What two connected metals in one water do to each other.
 *
 *     ΔE = E(cathode) − E(anode), from the ranges of the series: low = max(0, low(cathode) − high(anode)), high = the larger
 *     of high(cathode) − low(anode) and high(anode) − low(cathode)
 *
 * The cathode is the metal whose range has the higher middle. Where the ranges overlap either may be the anode, and ΔE begins
 * at 0. The series is of flowing seawater. Where a metal is passive and the series knows it active as well, the couple is
 * judged a second time without the film, over its whole area.
 *
 * @param one a metal; area from 0.01 to 1e9 where known [cm²]
 * @param other the other metal
 * @param water the water both are in
 * @returns roles, ΔE [V], ratio of the areas cathode/anode [–], grade and reasons
 * @throws OutOfRange for an area outside that range
 * @see reference `aca-flowing-seawater`, `anodic-index-pages`, `mil-std-1250-page`, `area-ratio-note`
 * @example couple({ metal: 'zinc', areaCm2: 100 }, { metal: 'copper', areaCm2: 100 }, 'salt').deltaVolts // 0.61 to 0.73
 */
export function couple(one: WettedMetal, other: WettedMetal, water: Water | null): FilmedCouple {
  const pair = plainCouple(one, other, water)
  const whenFilmLost = [pair.cathode, pair.anode].flatMap((passive) => {
    const active = activeRowOf(passive.metal)
    if (active === undefined) return []
    const partner = passive === pair.cathode ? pair.anode : pair.cathode
    return [{ active, ...plainCouple({ ...passive, metal: active }, partner, water) }]
  })
  return { ...pair, whenFilmLost }
}

/** Every pair of the metals, in their order; see `couple`. */
export function couplesOf(metals: readonly WettedMetal[], water: Water | null): readonly FilmedCouple[] {
  return metals.flatMap((one, at) => metals.slice(at + 1).map((other) => couple(one, other, water)))
}

/** The row of a metal without its passive film; undefined where the series has none. */
export function activeRowOf(metal: GalvanicMetal): GalvanicMetal | undefined {
  if (galvanicMetal(metal).state !== 'passive') return undefined
  const wanted = metal.replace(/-passive$/, '-active')
  return wanted === metal ? undefined : GALVANIC_METALS.find((key) => key === wanted)
}

function plainCouple(one: WettedMetal, other: WettedMetal, water: Water | null): Couple {
  const [cathode, anode] = inOrder(checked(one), checked(other))
  const upper = galvanicMetal(cathode.metal)
  const lower = galvanicMetal(anode.metal)
  const facts = {
    cathode,
    anode,
    areRolesCertain: upper.lowVSce >= lower.highVSce,
    deltaVolts: differenceOf(upper, lower),
    typicalVolts: midpointVSce(upper) - midpointVSce(lower),
    areaRatio: ratioOf(cathode.areaCm2, anode.areaCm2),
    exposedRatio: ratioOf(exposed(cathode), exposed(anode)),
  }
  const judged = gradeCouple(facts, water)
  return { ...facts, grade: judged.grade, reasons: reasonsOf(facts, judged, water) }
}

/** Whether a wetted area [cm²] can be one; a ratio of two such areas is a number. */
export function isPlausibleArea(areaCm2: number): boolean {
  const { leastArea, mostArea } = GALVANIC_AUDIT_FIGURES
  return areaCm2 >= leastArea.value && areaCm2 <= mostArea.value
}

function checked(wetted: WettedMetal): WettedMetal {
  const { areaCm2 } = wetted
  if (areaCm2 === null || isPlausibleArea(areaCm2)) return wetted
  const { leastArea, mostArea } = GALVANIC_AUDIT_FIGURES
  throw new OutOfRange('area', areaCm2, `from ${leastArea.value} to ${mostArea.value.toExponential()} cm²`)
}

function inOrder(one: WettedMetal, other: WettedMetal): readonly [WettedMetal, WettedMetal] {
  const isNobler = midpointVSce(galvanicMetal(one.metal)) >= midpointVSce(galvanicMetal(other.metal))
  return isNobler ? [one, other] : [other, one]
}

function differenceOf(upper: GalvanicRow, lower: GalvanicRow): VoltRange {
  const low = Math.max(0, upper.lowVSce - lower.highVSce)
  return { low, high: Math.max(upper.highVSce - lower.lowVSce, lower.highVSce - upper.lowVSce) }
}

function exposed({ areaCm2, exposedCm2 }: WettedMetal): number | null {
  return exposedCm2 === undefined ? areaCm2 : exposedCm2
}

function ratioOf(cathodeCm2: number | null, anodeCm2: number | null): number | null {
  return cathodeCm2 === null || anodeCm2 === null ? null : cathodeCm2 / anodeCm2
}
