import { GRAMS_PER_UNIT } from '../../contract/grams.js'
import type { MassUnit } from '../../contract/vocabulary.js'
import { keptPreferences } from '../i18n/preferences.js'
import { sayNumber, saySignificant } from './locale.js'
import { sayWord } from './spoken.js'

const GRAMS_PER_KILOGRAM = GRAMS_PER_UNIT.kg
/** From here on an axis counts in kilograms, unless its reader chose a unit: thousands of grams are slow to read. Convention. */
const KILOGRAM_AXIS_FROM_G = 5000
/** A rate is not known better. Convention. */
const RATE_DIGITS = 3

let preferred: MassUnit | undefined = keptPreferences().massUnit

/** Says masses in another unit from now on; undefined: grams and kilograms, whichever is handier. */
export function weighIn(unit: MassUnit | undefined): void {
  preferred = unit
}

/**
 * A mass as its reader weighs; unless they chose another unit as a yard says it: grams below a kilogram, kilograms above.
 *
 * @example sayMass(1234) // '1.23 kg'
 */
export function sayMass(grams: number): string {
  return sayMassIn(grams, handyUnit(grams))
}

/**
 * A mass as a part is sold by: without decimals that only pretend to know.
 *
 * @example sayPartMass(6300) // '6.3 kg'
 */
export function sayPartMass(grams: number): string {
  const unit = handyUnit(grams)
  const value = Number((grams / GRAMS_PER_UNIT[unit]).toPrecision(2))
  const decimals = value >= 10 || Number.isInteger(value) ? 0 : value >= 1 ? 1 : 2
  return `${sayNumber(value, decimals)} ${unit}`
}

function handyUnit(grams: number): MassUnit {
  if (preferred !== undefined && preferred !== 'g') return preferred
  return Math.abs(grams) < GRAMS_PER_KILOGRAM ? 'g' : 'kg'
}

/** The unit of an axis that reaches up to a mass, and how many grams one of it is. @example axisUnit(900) // { name: 'g', grams: 1 } */
export function axisUnit(highestG: number): { readonly name: MassUnit; readonly grams: number } {
  const name = preferred ?? (highestG < KILOGRAM_AXIS_FROM_G ? 'g' : 'kg')
  return { name, grams: GRAMS_PER_UNIT[name] }
}

/** @example sayPercent(0.374) // '37 %' */
export function sayPercent(fraction: number): string {
  const percent = fraction * 100
  if (percent > 0 && percent < 1) return sayWord('under1')
  if (percent > 99 && percent < 100) return sayWord('over99')
  return `${Math.round(percent)} %`
}

/** Loss of mass per day in the water. @example sayRate(1.236) // '1.24 g a day' */
export function sayRate(gramsPerDay: number): string {
  return sayWord('aDay', { rate: `${sayRateNumber(gramsPerDay)} ${rateUnit()}` })
}

export function sayRateNumber(gramsPerDay: number): string {
  const perDay = gramsPerDay / GRAMS_PER_UNIT[rateUnit()]
  return perDay >= 100 ? sayNumber(perDay, 0) : saySignificant(perDay, RATE_DIGITS)
}

/** Rates are small: kilograms and pounds a day would be all zeros. */
function rateUnit(): 'g' | 'oz' {
  return preferred === 'oz' || preferred === 'lb' ? 'oz' : 'g'
}

/** A mass in the unit somebody weighs in. @example sayMassIn(905, 'oz') // '31.9 oz' */
export function sayMassIn(grams: number, unit: MassUnit): string {
  return `${sayMassNumber(grams, unit)} ${unit}`
}

/** The same without its unit, where that stands beside it once for several. @example sayMassNumber(905, 'oz') // '31.9' */
export function sayMassNumber(grams: number, unit: MassUnit): string {
  if (unit === 'g') return `${Math.round(grams)}`
  // Kilograms below one are read to the gram, as the scale shows them.
  const decimals = unit === 'oz' ? 1 : unit === 'kg' && Math.abs(grams) < GRAMS_PER_KILOGRAM ? 3 : 2
  return sayNumber(grams / GRAMS_PER_UNIT[unit], decimals)
}

/** A rate beside the one expected, from the logarithm of their ratio. @example sayRatio(Math.log(2.4)) // '2.4 times the rate expected' */
export function sayRatio(logRatio: number): string {
  const ratio = Math.exp(logRatio)
  return ratio >= 1
    ? sayWord('timesExpected', { ratio: sayNumber(ratio, 1) })
    : sayWord('ofExpected', { percent: sayPercent(ratio) })
}
