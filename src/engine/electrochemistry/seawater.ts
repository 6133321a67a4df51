import { NotConverged, OutOfRange } from '../errors.js'
import {
  LOW_SALINITY,
  SALINITY_TEMPERATURE_FACTOR,
  SEAWATER_LIMITS,
  STANDARD_CONDUCTIVITY,
  seawaterPolynomial,
} from '../reference/seawater-scales.js'
import { assertSalinity, assertTemperatureAndPressure, polynomial } from './seawater-limits.js'

const A = seawaterPolynomial('salinity-a')
const B = seawaterPolynomial('salinity-b')
const TEMPERATURE_RATIO = seawaterPolynomial('temperature-c')
const PRESSURE_E = seawaterPolynomial('pressure-e')
const PRESSURE_D = seawaterPolynomial('pressure-d')
const PRESSURE_F = seawaterPolynomial('pressure-f')

/** The temperature that the scale refers to [°C]. */
const REFERENCE_C = 15
const MOST_STEPS = 50
/** Relative change of the root at which Newton's steps only stir the last digits. */
const SETTLED = 1e-14
/** Where the ratio of exactly 42 psu may come back to by rounding [psu]. */
const ROUNDING_PSU = 1e-9

/**
 * Practical salinity from a conductivity ratio.
 *
 *     S = Σ aᵢ·Rt^(i/2) + f(t)·Σ bᵢ·Rt^(i/2),  f = (t − 15)/(1 + k·(t − 15)),  Rt = R/(rt·Rp)
 *
 * Below 2 psu with the extension of Hill, Dauphinee and Woods (1986), S − a₀/(1 + 1.5X + X²) − b₀·f/(1 + √Y + Y + Y√Y),
 * X = 400 Rt, Y = 100 Rt, scaled so that both meet at 2 psu (as the international software of the equation of 2010 does; from
 * memory). It is for diluted seawater: river water of the same conductivity holds other salts.
 *
 * @param conductivityRatio conductivity over that of 35 psu, 15 °C, 0 dbar; R ≥ 0 [–]
 * @param temperatureC temperature t by IPTS-68, −2 to 40; printed for up to 35 [°C]
 * @param pressureDbar pressure above the atmosphere, 0 to 10,000 [dbar]
 * @returns practical salinity [psu]
 * @throws OutOfRange outside those ranges, or where the ratio gives a salinity outside 0 to 42
 * @see reference `unesco-44`, `hill-1986`
 * @example salinityFromRatio(1.2, 20, 2000) // 37.245628
 */
export function salinityFromRatio(conductivityRatio: number, temperatureC: number, pressureDbar = 0): number {
  assertTemperatureAndPressure(temperatureC, pressureDbar)
  if (!(conductivityRatio >= 0 && conductivityRatio < Infinity))
    throw new OutOfRange('conductivity ratio', conductivityRatio, 'at least 0')
  // Water without ions: the extension's own polynomial has a second zero here, and is negative up to a ratio near 0.00003.
  if (conductivityRatio === 0) return 0
  const rt =
    conductivityRatio / (temperatureRatio(temperatureC) * pressureRatio(conductivityRatio, temperatureC, pressureDbar))
  const salinity = salinityFromRoot(Math.sqrt(rt), temperatureC)
  const [low, high] = SEAWATER_LIMITS.salinityPsu
  if (salinity >= low && salinity <= high + ROUNDING_PSU) return salinity
  const valid = `one of a salinity from ${low} to ${high} psu (by this temperature and pressure it would be ${salinity})`
  throw new OutOfRange('conductivity ratio', conductivityRatio, valid)
}

/**
 * Conductivity ratio of seawater: the inverse of `salinityFromRatio`, by Newton's method on the square root of Rt.
 *
 * @param salinityPsu practical salinity, 0 to 42 [psu]
 * @param temperatureC temperature by IPTS-68, −2 to 40; printed for up to 35 [°C]
 * @param pressureDbar pressure above the atmosphere, 0 to 10,000 [dbar]
 * @returns conductivity over that of 35 psu, 15 °C, 0 dbar [–]
 * @throws OutOfRange outside those ranges
 * @see reference `unesco-44`, `hill-1986`
 * @example conductivityRatio(25, 10) // 0.654990
 */
export function conductivityRatio(salinityPsu: number, temperatureC: number, pressureDbar = 0): number {
  assertSalinity(salinityPsu)
  assertTemperatureAndPressure(temperatureC, pressureDbar)
  if (salinityPsu === 0) return 0
  const isLow = salinityPsu < LOW_SALINITY.value
  const scale = isLow ? meetingFactor(temperatureC) : 1
  const root = isLow
    ? newton((x) => scale * extended(x, temperatureC) - salinityPsu, 'root of Rt')
    : newton((x) => practical(x, temperatureC) - salinityPsu, 'root of Rt')
  return underPressure(root ** 2 * temperatureRatio(temperatureC), temperatureC, pressureDbar)
}

/**
 * Conductivity of seawater.
 *
 * @param salinityPsu practical salinity, 0 to 42 [psu]
 * @param temperatureC temperature by IPTS-68, −2 to 40 [°C]
 * @param pressureDbar pressure above the atmosphere, 0 to 10,000 [dbar]
 * @returns conductivity [S/m]; 0 without salt
 * @throws OutOfRange outside those ranges
 * @see reference `unesco-44`, `culkin-smith-1980`
 * @example seawaterConductivity(35, 15) // 4.2914
 */
export function seawaterConductivity(salinityPsu: number, temperatureC: number, pressureDbar = 0): number {
  return STANDARD_CONDUCTIVITY.value * conductivityRatio(salinityPsu, temperatureC, pressureDbar)
}

/**
 * Resistivity of seawater: what an anode's current meets.
 *
 *     ρ = 1 / conductivity
 *
 * @param salinityPsu practical salinity, above 0 to 42: without salt this scale knows no conductivity [psu]
 * @param temperatureC temperature by IPTS-68, −2 to 40 [°C]
 * @param pressureDbar pressure above the atmosphere, 0 to 10,000 [dbar]
 * @returns resistivity [Ω·m]
 * @throws OutOfRange outside those ranges
 * @see reference `unesco-44`, `culkin-smith-1980`
 * @example seawaterResistivity(35, 15) // 0.23302
 */
export function seawaterResistivity(salinityPsu: number, temperatureC: number, pressureDbar = 0): number {
  const conductivity = seawaterConductivity(salinityPsu, temperatureC, pressureDbar)
  if (conductivity > 0) return 1 / conductivity
  throw new OutOfRange('salinity', salinityPsu, 'above 0 psu for a resistivity; measure that of fresh water')
}

/** Salinity from √Rt, extended below 2 psu. */
function salinityFromRoot(x: number, temperatureC: number): number {
  const salinity = practical(x, temperatureC)
  return salinity < LOW_SALINITY.value ? meetingFactor(temperatureC) * extended(x, temperatureC) : salinity
}

/** The scale of 1978 itself. */
function practical(x: number, temperatureC: number): number {
  return polynomial(A, x) + temperatureTerm(temperatureC) * polynomial(B, x)
}

/** With the terms of the extension, which vanish at high salinities. */
function extended(x: number, temperatureC: number): number {
  const atFourHundred = 400 * x ** 2
  const atHundred = 10 * x
  const correctionA = A[0]! / (1 + 1.5 * atFourHundred + atFourHundred ** 2)
  const correctionB = (B[0]! * temperatureTerm(temperatureC)) / (1 + atHundred + atHundred ** 2 + atHundred ** 3)
  return practical(x, temperatureC) - correctionA - correctionB
}

/** What the extension is multiplied by so that it meets the scale at 2 psu: within 0.0002 of 1. */
function meetingFactor(temperatureC: number): number {
  const root = newton((x) => practical(x, temperatureC) - LOW_SALINITY.value, 'root of Rt at 2 psu')
  return LOW_SALINITY.value / extended(root, temperatureC)
}

function temperatureTerm(temperatureC: number): number {
  const departure = temperatureC - REFERENCE_C
  return departure / (1 + SALINITY_TEMPERATURE_FACTOR.value * departure)
}

function temperatureRatio(temperatureC: number): number {
  return polynomial(TEMPERATURE_RATIO, temperatureC)
}

/** Rp = 1 + e(p)/(d(t) + f(t)·R). */
function pressureRatio(ratio: number, temperatureC: number, pressureDbar: number): number {
  const divisor = polynomial(PRESSURE_D, temperatureC) + polynomial(PRESSURE_F, temperatureC) * ratio
  return 1 + polynomial(PRESSURE_E, pressureDbar) / divisor
}

/** Solves R = G·Rp(R) for the ratio under pressure: f·R² + (d − f·G)·R − G·(d + e) = 0, its positive root. */
function underPressure(ratioAtSurface: number, temperatureC: number, pressureDbar: number): number {
  const d = polynomial(PRESSURE_D, temperatureC)
  const e = polynomial(PRESSURE_E, pressureDbar)
  const f = polynomial(PRESSURE_F, temperatureC)
  const half = (d - f * ratioAtSurface) / 2
  const product = f * ratioAtSurface * (d + e)
  return (Math.sqrt(half ** 2 + product) - half) / f
}

/**
 * Highest root of a function of √Rt, by Newton's method from above all salinities of the scale: there the function rises and
 * bends upwards, so that the steps come down without overshooting. Slopes are taken numerically; they steer, the excess decides.
 */
function newton(excess: (x: number) => number, what: string): number {
  let x = 1.2
  let step = Infinity
  for (let count = 0; count < MOST_STEPS; count++) {
    const width = x * 1e-6
    const slope = (excess(x + width) - excess(x - width)) / (2 * width)
    step = excess(x) / slope
    x -= step
    if (Math.abs(step) <= SETTLED * x) return x
  }
  throw new NotConverged(what, MOST_STEPS, step)
}
