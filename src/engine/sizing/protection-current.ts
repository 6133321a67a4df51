import { coatingFactors } from '../electrochemistry/coating-factors.js'
import { OutOfRange } from '../errors.js'
import type { CoatingCategory } from '../reference/coating-breakdown.js'
import {
  CURRENT_DEMAND,
  type CurrentDemandKey,
  type CurrentDemandRow,
  currentDemand,
} from '../reference/current-demand.js'
import { assertPositive } from './ranges.js'

/** Surfaces whose current densities are of bare metal: a coating may be counted on top. */
const BARE = /^(bare-steel|aluminium|bronze-|stainless-|nickel-|ballast-tank-bare)/

/** Coatings of a protected surface: none, or a category of the offshore practice. */
export const COATINGS = ['none', 'I', 'II', 'III'] as const satisfies readonly ('none' | CoatingCategory)[]
export type Coating = (typeof COATINGS)[number]

/** Every surface that a current density is published for. */
export const PROTECTED_SURFACES: readonly CurrentDemandKey[] = CURRENT_DEMAND.map((row) => row.key)

/** A metal surface under water that the anodes protect. */
export interface ProtectedArea {
  readonly surface: CurrentDemandKey
  readonly areaM2: number
  readonly coating: Coating
}

/** Currents that protection asks for: to polarise, over the years, and at the end [A]. */
export interface ProtectionCurrent {
  readonly initialA: number
  readonly meanA: number
  readonly finalA: number
}

/**
 * The current that some surfaces ask for.
 *
 *     I = Σ A·i·f
 *
 * with i the design current density (initial, mean, final) and f the coating's breakdown factor. A row without an initial or a
 * final density counts with its mean: an assumption of this project (`lacksDensities`).
 *
 * @param areas surfaces, at least one; each area above 0 [m²]; rows of painted or coated surfaces take no further coating
 * @param years life that the coating ages over, at least 0 [a]
 * @returns currents [A]
 * @throws OutOfRange outside those ranges
 * @see reference `rp-b401`, 7.4 and Tables 10-1, 10-2, 10-4
 * @example protectionCurrent([{ surface: 'bare-steel-tropical', areaM2: 1353.75, coating: 'I' }], 15).initialA // 20.306
 */
export function protectionCurrent(areas: readonly ProtectedArea[], years: number): ProtectionCurrent {
  if (areas.length === 0) throw new OutOfRange('areas', 'none', 'at least one')
  const currents = areas.map((area) => areaCurrent(area, years))
  const sum = (pick: (current: ProtectionCurrent) => number) => currents.reduce((total, each) => total + pick(each), 0)
  return {
    initialA: sum(({ initialA }) => initialA),
    meanA: sum(({ meanA }) => meanA),
    finalA: sum(({ finalA }) => finalA),
  }
}

/** Whether a surface's row has no initial or no final density of its own. */
export function lacksDensities(surface: CurrentDemandKey): boolean {
  const row: CurrentDemandRow = currentDemand(surface)
  return row.initialAPerM2 === undefined || row.finalAPerM2 === undefined
}

/** Whether a coating may be counted on a surface: its row is of bare metal. */
export function takesCoating(surface: CurrentDemandKey): boolean {
  return BARE.test(currentDemand(surface).metal)
}

function areaCurrent({ surface, areaM2, coating }: ProtectedArea, years: number): ProtectionCurrent {
  assertPositive('area', areaM2, 'm²')
  if (coating !== 'none' && !takesCoating(surface))
    throw new OutOfRange('coating', coating, `none: "${surface}" has its paint counted in its current density`)
  const factors = coating === 'none' ? { initial: 1, mean: 1, final: 1 } : coatingFactors(coating, years)
  const row: CurrentDemandRow = currentDemand(surface)
  return {
    initialA: areaM2 * (row.initialAPerM2 ?? row.meanAPerM2) * factors.initial,
    meanA: areaM2 * row.meanAPerM2 * factors.mean,
    finalA: areaM2 * (row.finalAPerM2 ?? row.meanAPerM2) * factors.final,
  }
}
