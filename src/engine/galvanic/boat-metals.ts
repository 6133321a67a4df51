import { coatingFactors } from '../electrochemistry/coating-factors.js'
import type { HullMaterial } from '../reference/criteria-of-metals.js'
import { COATING_RENEWAL } from '../reference/fitting-demand.js'
import { GALVANIC_AUDIT_FIGURES } from '../reference/galvanic-grades.js'
import type { GalvanicMetal } from '../reference/galvanic-series.js'
import type { AnodeAlloy, ReferenceElectrode, Water } from '../reference/vocabulary.js'

/** What is on record of a boat's underwater metal. `null` is "nobody knows"; names are the record's own. */
export interface GalvanicBoat {
  readonly hull: HullMaterial | null
  /** Of the berth the boat lies at, or lay at last. */
  readonly water: Water | null
  readonly fittings: readonly BoatFitting[]
  /** The anodes in place. */
  readonly anodes: readonly BoatAnode[]
  readonly continuity: readonly ContinuityValue[]
  readonly potentials: readonly PotentialValue[]
}

export interface BoatFitting {
  readonly fitting: string
  readonly metal: GalvanicMetal | null
  /** Wetted area ≥ 0 [cm²]. */
  readonly areaCm2: number | null
  readonly coated: boolean | null
  readonly bonded: boolean | null
}

export interface BoatAnode {
  readonly anode: string
  readonly alloy: AnodeAlloy | null
  /** Unknown counts as bonded, as an anode is usually bolted to metal. */
  readonly bonded: boolean | null
}

/** Resistance between two parts, or a part and `bond`; of several readings the latest counts. */
export interface ContinuityValue {
  readonly at: string
  readonly from: string
  readonly to: string
  readonly ohms: number
}

export interface PotentialValue {
  readonly at: string
  /** `null` is the bonded hull. */
  readonly fitting: string | null
  readonly reference: ReferenceElectrode | null
  /** As read, against `reference` [V]. */
  readonly volts: number
}

/** All fittings of one metal within one connected system, as one surface. */
export interface MetalOfBoat {
  readonly metal: GalvanicMetal
  readonly fittings: readonly string[]
  /** Sum of the wetted areas; `null` where one is not recorded [cm²]. */
  readonly areaCm2: number | null
  /** The same with painted surfaces at the share that their paint lets through [cm²]. */
  readonly exposedCm2: number | null
  readonly isPainted: boolean
}

/** Share of the bare area that a year-old paint leaves exposed: category I, the thinnest (`COATING_RENEWAL`). */
export const PAINTED_SHARE = coatingFactors('I', COATING_RENEWAL.years).mean

/** The fittings gathered by metal, in the order of first mention; those of unknown metal are left out. */
export function metalsOf(fittings: readonly BoatFitting[]): readonly MetalOfBoat[] {
  const byMetal = new Map<GalvanicMetal, BoatFitting[]>()
  for (const fitting of fittings) {
    if (fitting.metal === null) continue
    byMetal.set(fitting.metal, [...(byMetal.get(fitting.metal) ?? []), fitting])
  }
  return [...byMetal].map(([metal, parts]) => ({
    metal,
    fittings: parts.map(({ fitting }) => fitting),
    areaCm2: totalOf(parts.map(({ areaCm2 }) => areaCm2)),
    exposedCm2: exposedTotal(parts),
    isPainted: parts.every(({ coated }) => coated === true),
  }))
}

function exposedTotal(parts: readonly BoatFitting[]): number | null {
  if (totalOf(parts.map(({ areaCm2 }) => areaCm2)) === null) return null
  return parts.reduce((sum, part) => sum + (exposedArea(part) ?? 0), 0)
}

function exposedArea({ areaCm2, coated }: BoatFitting): number | null {
  return areaCm2 === null || coated !== true ? areaCm2 : areaCm2 * PAINTED_SHARE
}

/** A sum of areas; unknown where one is, and where what is recorded is next to nothing: no metal is without a surface. */
function totalOf(areas: readonly (number | null)[]): number | null {
  let total = 0
  for (const area of areas) {
    if (area === null) return null
    total += area
  }
  return total >= GALVANIC_AUDIT_FIGURES.leastArea.value ? total : null
}
