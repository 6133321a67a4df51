import { OutOfRange } from '../errors.js'
import type { Curve, CurveValue } from '../statistics/least-squares/curve.js'
import { consumptionCoordinate } from './consumption-coordinate.js'

/**
 * The depletion law as a curve of the net mass over days in the water, from the mass m₀ and the rate k at day 0:
 *
 *     m(t) = m₀·(1 − (1 − q)·k·t/m₀)^(1/(1 − q)),  q = 1: m₀·exp(−k·t/m₀),  0 once used up
 */

/** Below this the powers of 1 − q are told by their series: the closed form loses its digits. */
const NEAR_EXPONENTIAL = 1e-4

/** m/m₀ at z = k·t/m₀, with its derivatives by z and by q. */
function share(z: number, q: number): { readonly left: number; readonly byZ: number; readonly byQ: number } {
  const a = 1 - q
  if (a * z >= 1) return { left: 0, byZ: 0, byQ: 0 }
  const isNear = Math.abs(a * z) < NEAR_EXPONENTIAL
  const logLeft = isNear ? -z * (1 + (a * z) / 2 + (a * z) ** 2 / 3 + (a * z) ** 3 / 4) : Math.log1p(-a * z) / a
  const byA = isNear
    ? -(z ** 2) * (1 / 2 + (2 * a * z) / 3 + (3 * (a * z) ** 2) / 4 + (4 * (a * z) ** 3) / 5)
    : -(z / (1 - a * z) + logLeft) / a
  const left = Math.exp(logLeft)
  return { left, byZ: -left / (1 - a * z), byQ: -left * byA }
}

/** With m₀ [g] and k [g/d] free, q held. */
export function lawCurve(exponent: number): Curve {
  const free = freeLawCurve()
  return {
    parameters: ['m0', 'k'],
    at: (t, [m0, k]): CurveValue => {
      const { value, gradient } = free.at(t, [m0!, k!, exponent])
      return { value, gradient: gradient.slice(0, 2) }
    },
  }
}

/** With m₀ [g], k [g/d] and q free. Rates and masses above 0 are its domain. */
export function freeLawCurve(): Curve {
  return {
    parameters: ['m0', 'k', 'q'],
    at: (t, [m0, k, q]): CurveValue => {
      if (!(m0! > 0)) return { value: Number.NaN, gradient: [Number.NaN, Number.NaN, Number.NaN] }
      const z = (k! * t) / m0!
      const { left, byZ, byQ } = share(z, q!)
      return { value: m0! * left, gradient: [left - z * byZ, t * byZ, m0! * byQ] }
    },
  }
}

/** With m₀ [g] and the day on which a share of m₀ is left free, q held: for limits of that day. */
export function crossingCurve(exponent: number, fractionLeft: number): Curve {
  const coordinate = crossingCoordinate(exponent, fractionLeft)
  return {
    parameters: ['m0', 'day'],
    at: (t, [m0, day]): CurveValue => {
      if (!(day! > 0)) return { value: Number.NaN, gradient: [Number.NaN, Number.NaN] }
      const z = (coordinate * t) / day!
      const { left, byZ } = share(z, exponent)
      return { value: m0! * left, gradient: [left, (-m0! * byZ * z) / day!] }
    },
  }
}

/** k·t/m₀ at which a share of m₀ is left [–]. */
export function crossingCoordinate(exponent: number, fractionLeft: number): number {
  if (!(fractionLeft > 0 && fractionLeft < 1)) throw new OutOfRange('share left', fractionLeft, 'between 0 and 1')
  return consumptionCoordinate(1, 1, fractionLeft, exponent)
}
