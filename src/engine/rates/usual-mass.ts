import type { AnodeHistory } from './fleet-history.js'
import type { UsualMass } from './mass-states.js'

/** Even pieces of one part number differ by this share. Assumed. */
const LEAST_SD_SHARE = 0.05

/**
 * What an anode weighed when new, judged by its neighbours in time: those of the same boat, position and alloy whose mass when
 * new is known. `null` where it is known itself, or there are none.
 */
export function usualGrossMass(anode: AnodeHistory, ofBoat: readonly AnodeHistory[]): UsualMass | null {
  if (anode.fittedGrossMassG !== null) return null
  const masses = ofBoat
    .filter(({ position, alloy }) => position === anode.position && alloy === anode.alloy)
    .flatMap(({ fittedGrossMassG }) => fittedGrossMassG ?? [])
    .sort((a, b) => a - b)
  if (masses.length === 0) return null
  const middle = masses[Math.floor(masses.length / 2)]!
  const spread = Math.sqrt(masses.reduce((sum, mass) => sum + (mass - middle) ** 2, 0) / masses.length)
  return { grossMassG: middle, sdG: Math.max(spread, LEAST_SD_SHARE * middle) }
}
