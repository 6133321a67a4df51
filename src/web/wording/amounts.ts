import { GRAMS_PER_UNIT } from '../../contract/mass.js'
import type { MassUnit } from '../../contract/vocabulary.js'
import { sayNumber } from './locale.js'

const GRAMS_PER_KILOGRAM = GRAMS_PER_UNIT.kg

/** A mass as a yard says it: grams below a kilogram, kilograms above. @example sayMass(1234) // '1.23 kg' */
export function sayMass(grams: number): string {
  if (Math.abs(grams) < GRAMS_PER_KILOGRAM) return `${Math.round(grams)} g`
  return `${sayNumber(grams / GRAMS_PER_KILOGRAM, 2)} kg`
}

/** @example sayPercent(0.374) // '37 %' */
export function sayPercent(fraction: number): string {
  const percent = fraction * 100
  if (percent > 0 && percent < 1) return 'under 1 %'
  if (percent > 99 && percent < 100) return 'over 99 %'
  return `${Math.round(percent)} %`
}

/** Loss of mass per day in the water. @example sayRate(1.236) // '1.24 g a day' */
export function sayRate(gramsPerDay: number): string {
  return `${sayRateNumber(gramsPerDay)} g a day`
}

export function sayRateNumber(gramsPerDay: number): string {
  return gramsPerDay >= 100 ? gramsPerDay.toFixed(0) : gramsPerDay.toPrecision(3)
}

/** A mass in the unit somebody weighs in. @example sayMassIn(905, 'oz') // '31.9 oz' */
export function sayMassIn(grams: number, unit: MassUnit): string {
  if (unit === 'g') return `${Math.round(grams)} g`
  const decimals = unit === 'oz' ? 1 : 2
  return `${sayNumber(grams / GRAMS_PER_UNIT[unit], decimals)} ${unit}`
}

/** A rate beside the one expected, from the logarithm of their ratio. @example sayRatio(Math.log(2.4)) // '2.4 times the rate expected' */
export function sayRatio(logRatio: number): string {
  const ratio = Math.exp(logRatio)
  return ratio >= 1 ? `${ratio.toFixed(1)} times the rate expected` : `${sayPercent(ratio)} of the rate expected`
}
