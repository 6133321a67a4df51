import { OutOfRange } from '../errors.js'
import { SEAWATER_LIMITS } from '../reference/seawater-scales.js'

/** @throws OutOfRange outside −2…40 °C or 0…10,000 dbar */
export function assertTemperatureAndPressure(temperatureC: number, pressureDbar: number): void {
  assertWithin('temperature', temperatureC, SEAWATER_LIMITS.temperatureC, '°C')
  assertWithin('pressure', pressureDbar, SEAWATER_LIMITS.pressureDbar, 'dbar')
}

/** @throws OutOfRange outside 0…42 psu */
export function assertSalinity(salinityPsu: number): void {
  assertWithin('salinity', salinityPsu, SEAWATER_LIMITS.salinityPsu, 'psu')
}

function assertWithin(quantity: string, value: number, [low, high]: readonly [number, number], unit: string): void {
  if (!(value >= low && value <= high)) throw new OutOfRange(quantity, value, `from ${low} to ${high} ${unit}`)
}

/** Value of a polynomial, coefficients from the lowest power on (Horner). */
export function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0)
}
