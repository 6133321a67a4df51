import { ANODE_DESIGN } from '../reference/anode-design.js'
import { assertNotNegative, assertPositive, assertUtilisation, finite } from './ranges.js'

/**
 * Net anode mass that gives a current over years.
 *
 *     M = I·t·8760 / (u·ε)
 *
 * with the mean current over the life: the initial one would ask for more than is used.
 *
 * @param currentA mean current I ≥ 0 [A]
 * @param years life t ≥ 0 [a of 8760 h]
 * @param capacityAhPerKg practical electrochemical capacity ε > 0, its efficiency within it [A·h/kg]
 * @param utilisation utilisation factor u, above 0 to 1 [–]
 * @returns net mass [kg]
 * @throws OutOfRange outside those ranges
 * @see reference `rp-b401`, 7.7; `pipeline-report`; `harbour-calculation`
 * @example requiredMass(20.31, 15, 2000, 0.9) // 1482.63
 */
export function requiredMass(currentA: number, years: number, capacityAhPerKg: number, utilisation: number): number {
  assertNotNegative('current', currentA, 'A')
  assertNotNegative('life', years, 'years')
  assertPositive('capacity', capacityAhPerKg, 'A·h/kg')
  assertUtilisation(utilisation)
  return finite('mass', (currentA * years * ANODE_DESIGN.hoursPerYear.value) / (utilisation * capacityAhPerKg), 'kg')
}

/**
 * Years that a net mass gives a current: the inverse of `requiredMass`.
 *
 *     t = M·u·ε / (I·8760)
 *
 * @param massKg net mass M ≥ 0 [kg]
 * @param currentA mean current I > 0 [A]
 * @param capacityAhPerKg practical electrochemical capacity ε > 0 [A·h/kg]
 * @param utilisation share of the mass that is used, above 0 to 1; a wasting threshold counts the same way [–]
 * @returns life [a of 8760 h]
 * @throws OutOfRange outside those ranges
 * @see reference `rp-b401`, 7.7
 * @example lifeYears(0.9, 0.02, 780, 0.8) // 3.205
 */
export function lifeYears(massKg: number, currentA: number, capacityAhPerKg: number, utilisation: number): number {
  assertNotNegative('mass', massKg, 'kg')
  assertPositive('current', currentA, 'A')
  assertPositive('capacity', capacityAhPerKg, 'A·h/kg')
  assertUtilisation(utilisation)
  return finite(
    'life',
    (massKg * utilisation * capacityAhPerKg) / (currentA * ANODE_DESIGN.hoursPerYear.value),
    'years',
  )
}
