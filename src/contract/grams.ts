import type { MassUnit } from './vocabulary.js'

/**
 * Grams in one unit of mass [g]. Pound and ounce: the international avoirdupois pound of 1959, 0.45359237 kg exactly,
 * of 16 ounces. Status: definition.
 */
export const GRAMS_PER_UNIT: Readonly<Record<MassUnit, number>> = { g: 1, kg: 1000, lb: 453.59237, oz: 28.349523125 }

/** Decimal digits that a double always carries: what lies behind them is noise of the multiplication. */
const FAITHFUL_DIGITS = 15

/**
 * Mass in grams: value × grams per unit, rounded to the digits a double carries, so that 1.001 kg is 1001 g and not
 * 1000.9999999999999 g.
 *
 * @param value mass in `unit`
 * @param unit one of g, kg, lb, oz
 * @returns mass [g]
 * @example gramsOf(1.2, 'kg') // 1200
 */
export function gramsOf(value: number, unit: MassUnit): number {
  return Number((value * GRAMS_PER_UNIT[unit]).toPrecision(FAITHFUL_DIGITS))
}
