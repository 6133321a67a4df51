import { OutOfRange } from '../errors.js'

/** @throws OutOfRange unless the value is finite and above 0 */
export function assertPositive(quantity: string, value: number, unit: string): void {
  if (!(value > 0 && value < Infinity)) throw new OutOfRange(quantity, value, `above 0 ${unit}`)
}

/** @throws OutOfRange unless the value is finite and at least 0 */
export function assertNotNegative(quantity: string, value: number, unit: string): void {
  if (!(value >= 0 && value < Infinity)) throw new OutOfRange(quantity, value, `at least 0 ${unit}`)
}

/** Utilisation factor: above 0, at most 1. */
export function assertUtilisation(value: number): void {
  if (!(value > 0 && value <= 1)) throw new OutOfRange('utilisation', value, 'above 0 and at most 1')
}

/** The result, unless inputs each within their range drive it beyond the numbers. */
export function finite(quantity: string, value: number, unit: string): number {
  if (Number.isFinite(value)) return value
  throw new OutOfRange(quantity, value, `a number of ${unit} that can be told`)
}
