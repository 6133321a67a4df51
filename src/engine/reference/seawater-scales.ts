import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** Coefficients of one polynomial of a seawater scale, lowest power first. */
export interface SeawaterPolynomialRow {
  readonly key: string
  readonly coefficients: readonly number[]
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const MEETS_CHECKS = {
  status: 'verified-in-part',
  sources: ['unesco-44'],
  note: 'recalled; with them every check value that the paper prints is met to its last digit',
} as const

const ROWS = [
  // Practical Salinity Scale 1978. Salinity in powers of the square root of the ratio Rt.
  { key: 'salinity-a', coefficients: [0.008, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081], ...MEETS_CHECKS },
  { key: 'salinity-b', coefficients: [0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144], ...MEETS_CHECKS },
  // Ratio of a water of 35 psu at a temperature to that at 15 °C, in powers of the temperature.
  {
    key: 'temperature-c',
    coefficients: [0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9],
    ...MEETS_CHECKS,
  },
  // Effect of pressure: e in powers of the pressure [dbar] from the first on, d of temperature, f of the ratio's factor.
  { key: 'pressure-e', coefficients: [0, 2.07e-5, -6.37e-10, 3.989e-15], ...MEETS_CHECKS },
  { key: 'pressure-d', coefficients: [1, 3.426e-2, 4.464e-4], ...MEETS_CHECKS },
  { key: 'pressure-f', coefficients: [4.215e-1, -3.107e-3], ...MEETS_CHECKS },
  // Equation of state of 1980 at atmospheric pressure [kg/m³], in powers of the temperature.
  {
    key: 'pure-water',
    coefficients: [999.842594, 6.793952e-2, -9.09529e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9],
    ...MEETS_CHECKS,
  },
  {
    key: 'density-s',
    coefficients: [8.24493e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9],
    ...MEETS_CHECKS,
  },
  { key: 'density-s15', coefficients: [-5.72466e-3, 1.0227e-4, -1.6546e-6], ...MEETS_CHECKS },
  { key: 'density-s2', coefficients: [4.8314e-4], ...MEETS_CHECKS },
  // Its secant bulk modulus [bar] in powers of the pressure [bar], each in powers of the temperature.
  {
    key: 'bulk-0',
    coefficients: [19652.21, 148.4206, -2.327105, 1.360477e-2, -5.155288e-5],
    ...MEETS_CHECKS,
  },
  { key: 'bulk-0-s', coefficients: [54.6746, -0.603459, 1.09987e-2, -6.167e-5], ...MEETS_CHECKS },
  { key: 'bulk-0-s15', coefficients: [7.944e-2, 1.6483e-2, -5.3009e-4], ...MEETS_CHECKS },
  { key: 'bulk-1', coefficients: [3.239908, 1.43713e-3, 1.16092e-4, -5.77905e-7], ...MEETS_CHECKS },
  { key: 'bulk-1-s', coefficients: [2.2838e-3, -1.0981e-5, -1.6078e-6], ...MEETS_CHECKS },
  { key: 'bulk-1-s15', coefficients: [1.91075e-4], ...MEETS_CHECKS },
  { key: 'bulk-2', coefficients: [8.50935e-5, -6.12293e-6, 5.2787e-8], ...MEETS_CHECKS },
  { key: 'bulk-2-s', coefficients: [-9.9348e-7, 2.0816e-8, 9.1697e-10], ...MEETS_CHECKS },
] as const satisfies readonly SeawaterPolynomialRow[]

export type SeawaterPolynomialKey = (typeof ROWS)[number]['key']

/** Polynomials of the Practical Salinity Scale 1978 and of the equation of state of 1980; temperatures by IPTS-68. */
export const SEAWATER_POLYNOMIALS: readonly SeawaterPolynomialRow[] = ROWS

const COEFFICIENTS = new Map<SeawaterPolynomialKey, readonly number[]>(ROWS.map((row) => [row.key, row.coefficients]))

/** The coefficients of one polynomial, lowest power first. */
export function seawaterPolynomial(key: SeawaterPolynomialKey): readonly number[] {
  return COEFFICIENTS.get(key)!
}

/** Conductivity of a water of 35 psu at 15 °C and atmospheric pressure: what conductivity ratios are ratios to. */
export const STANDARD_CONDUCTIVITY = {
  value: 4.2914,
  unit: 'S/m',
  status: 'verified',
  sources: ['unesco-44', 'culkin-smith-1980'],
  note: '42.914 mS/cm',
} as const satisfies Sourced

/** Factor of the departure from 15 °C in the scale's temperature term, k of (t − 15)/(1 + k·(t − 15)). */
export const SALINITY_TEMPERATURE_FACTOR = {
  value: 0.0162,
  unit: '1/°C',
  ...MEETS_CHECKS,
} as const satisfies Sourced

/** Below this salinity the scale of 1978 needs its extension. */
export const LOW_SALINITY = {
  value: 2,
  unit: 'psu',
  status: 'verified-in-part',
  sources: ['hill-1986'],
  note: 'the arguments X = 400 Rt and Y = 100 Rt read in an instrument manual; the denominators from memory',
} as const satisfies Sourced

/** What the scales are taken to hold for. */
export const SEAWATER_LIMITS = {
  salinityPsu: [0, 42],
  temperatureC: [-2, 40],
  pressureDbar: [0, 10_000],
  status: 'verified-in-part',
  sources: ['unesco-44'],
  note: 'the equation of state holds to 40 °C; the salinity scale is printed to 35 °C and extrapolated to 40 here',
} as const

interface Sourced {
  readonly value: number
  readonly unit: string
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}
