import { designAlloy } from '../../../src/engine/reference/anode-alloys.js'
import type { AnodeAlloy, Water } from '../../../src/engine/reference/vocabulary.js'

/** Driving voltage to a protected metal at −0.80 V against Ag/AgCl, over zinc's. */
export const DRIVING: Readonly<Record<AnodeAlloy, number>> = { zinc: 1, aluminium: 1.1, magnesium: 2.6 }
const ACTIVITY: Readonly<Record<AnodeAlloy, number>> = { zinc: 0, aluminium: 1, magnesium: 2 }
const SURFACE_EXPONENT = 2 / 3

export function density(alloy: AnodeAlloy): number {
  return designAlloy(alloy).densityGPerCm3
}

export function isMoreActive(one: AnodeAlloy, other: AnodeAlloy): boolean {
  return ACTIVITY[one] > ACTIVITY[other]
}

/** Share of the current of a piece of another alloy, of the same size, over that of the declared one. */
export function shareOfOther(truly: AnodeAlloy, declared: AnodeAlloy): number {
  const sameSurface = (density(declared) / density(truly)) ** SURFACE_EXPONENT
  return sameSurface * (DRIVING[truly] / DRIVING[declared])
}

/** Grams for one ampere-hour over those of the declared alloy. */
export function massOfOther(truly: AnodeAlloy, declared: AnodeAlloy): number {
  return designAlloy(declared).practicalAhPerKg / designAlloy(truly).practicalAhPerKg
}

/** An alloy in its water: zinc and aluminium film over in fresh water, magnesium eats itself in salt. */
export function inWater(alloy: AnodeAlloy, water: Water, years: number): number {
  if (water === 'fresh' && alloy === 'zinc') return 0.6 * Math.exp(-years / 2)
  if (water === 'fresh' && alloy === 'aluminium') return 0.8
  if (water === 'salt' && alloy === 'magnesium') return 1.6
  if (water === 'brackish' && alloy === 'magnesium') return 1.3
  return 1
}
