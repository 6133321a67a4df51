import { seawaterPolynomial } from '../reference/seawater-scales.js'
import { assertSalinity, assertTemperatureAndPressure, polynomial } from './seawater-limits.js'

const DBAR_PER_BAR = 10

const PURE = seawaterPolynomial('pure-water')
const [S, S15, S2] = (['density-s', 'density-s15', 'density-s2'] as const).map(seawaterPolynomial)
const [K0, K0_S, K0_S15] = (['bulk-0', 'bulk-0-s', 'bulk-0-s15'] as const).map(seawaterPolynomial)
const [K1, K1_S, K1_S15] = (['bulk-1', 'bulk-1-s', 'bulk-1-s15'] as const).map(seawaterPolynomial)
const [K2, K2_S] = (['bulk-2', 'bulk-2-s'] as const).map(seawaterPolynomial)

/**
 * Density of seawater by the equation of state of 1980.
 *
 *     ρ(S,t,p) = ρ(S,t,0) / (1 − p/K),  K = K₀ + K₁·p + K₂·p², p in bar
 *
 * with ρ(S,t,0) and the secant bulk modulus K polynomials in temperature and in S, S^1.5 and S².
 *
 * @param salinityPsu practical salinity S, 0 to 42 [psu]
 * @param temperatureC temperature t by IPTS-68, −2 to 40 [°C]
 * @param pressureDbar pressure above the atmosphere, 0 to 10,000 [dbar]
 * @returns density [kg/m³]
 * @throws OutOfRange outside those ranges
 * @see reference `unesco-44`, pp. 15-19
 * @example seawaterDensity(35, 25) // 1023.34306
 */
export function seawaterDensity(salinityPsu: number, temperatureC: number, pressureDbar = 0): number {
  assertSalinity(salinityPsu)
  assertTemperatureAndPressure(temperatureC, pressureDbar)
  const atSurface = mixture(salinityPsu, temperatureC, PURE, S, S15) + polynomial(S2!, temperatureC) * salinityPsu ** 2
  const bars = pressureDbar / DBAR_PER_BAR
  return atSurface / (1 - bars / secantBulkModulus(salinityPsu, temperatureC, bars))
}

function secantBulkModulus(salinityPsu: number, temperatureC: number, bars: number): number {
  const k0 = mixture(salinityPsu, temperatureC, K0!, K0_S, K0_S15)
  const k1 = mixture(salinityPsu, temperatureC, K1!, K1_S, K1_S15)
  const k2 = mixture(salinityPsu, temperatureC, K2!, K2_S)
  return k0 + k1 * bars + k2 * bars ** 2
}

/** Pure water, and what salt adds in proportion to S and to S^1.5. */
function mixture(
  salinityPsu: number,
  temperatureC: number,
  pure: readonly number[],
  linear: readonly number[] = [],
  threeHalves: readonly number[] = [],
): number {
  const salt =
    polynomial(linear, temperatureC) * salinityPsu + polynomial(threeHalves, temperatureC) * salinityPsu ** 1.5
  return polynomial(pure, temperatureC) + salt
}
