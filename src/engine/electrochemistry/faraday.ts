import { OutOfRange } from '../errors.js'
import { FARADAY } from '../reference/constants.js'

const SECONDS_PER_HOUR = 3600
const HOURS_PER_DAY = 24
const GRAMS_PER_KILOGRAM = 1000

/**
 * Theoretical electrochemical capacity of a metal that dissolves as an n-valent ion.
 *
 *     ε = n·F / (3600·M),  M in kg/mol
 *
 * An upper bound: a real alloy gives ε times its efficiency (see `ANODE_ALLOY_ROWS`).
 *
 * @param valence electrons given up per atom, n ≥ 1 [–]
 * @param molarMassGPerMol molar mass M > 0 [g/mol]
 * @returns capacity ε [A·h/kg]
 * @throws OutOfRange outside those ranges
 * @see reference `tp-17`, 1.1.3
 * @example theoreticalCapacity(2, 65.38) // zinc: 819.87
 */
export function theoreticalCapacity(valence: number, molarMassGPerMol: number): number {
  if (!(valence >= 1 && valence < Infinity)) throw new OutOfRange('valence', valence, 'at least 1')
  assertPositive('molar mass', molarMassGPerMol, 'g/mol')
  const molarMassKg = molarMassGPerMol / GRAMS_PER_KILOGRAM
  return (valence * FARADAY.value) / (SECONDS_PER_HOUR * molarMassKg)
}

/**
 * Mean current that an anode gave while it lost mass.
 *
 *     I = ε·Δm / Δt,  Δm in kg, Δt in hours
 *
 * A negative loss (a heavier anode: weighing error) gives a negative current; it is not clipped. What an alloy corrodes
 * of its own accord counts in ε, so use a practical capacity.
 *
 * @param capacityAhPerKg practical capacity ε > 0 [A·h/kg]
 * @param massLossG loss Δm, finite [g]
 * @param days time in the water Δt > 0 [d]
 * @returns mean current [A]
 * @throws OutOfRange outside those ranges
 * @see reference `tp-17`
 * @example meanCurrent(2000, 310, 200) // aluminium: 0.12917
 */
export function meanCurrent(capacityAhPerKg: number, massLossG: number, days: number): number {
  assertPositive('capacity', capacityAhPerKg, 'A·h/kg')
  if (!Number.isFinite(massLossG)) throw new OutOfRange('mass loss', massLossG, 'a finite number of g')
  assertPositive('time in the water', days, 'days')
  return (capacityAhPerKg * (massLossG / GRAMS_PER_KILOGRAM)) / (days * HOURS_PER_DAY)
}

/**
 * Rate at which an anode loses mass while it gives a current: the inverse of `meanCurrent`.
 *
 *     dm/dt = I / ε
 *
 * @param capacityAhPerKg practical capacity ε > 0 [A·h/kg]
 * @param currentA current I ≥ 0 [A]
 * @returns mass rate [g/d]
 * @throws OutOfRange outside those ranges
 * @see reference `tp-17`
 * @example massRate(780, 0.05) // zinc: 1.538
 */
export function massRate(capacityAhPerKg: number, currentA: number): number {
  assertPositive('capacity', capacityAhPerKg, 'A·h/kg')
  if (!(currentA >= 0 && currentA < Infinity)) throw new OutOfRange('current', currentA, 'at least 0 A')
  return (currentA * HOURS_PER_DAY * GRAMS_PER_KILOGRAM) / capacityAhPerKg
}

function assertPositive(quantity: string, value: number, unit: string): void {
  if (!(value > 0 && value < Infinity)) throw new OutOfRange(quantity, value, `above 0 ${unit}`)
}
