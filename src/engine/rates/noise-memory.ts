import { DAYS_PER_YEAR } from './season.js'

/**
 * How long a boat's current, and an anode's share of it, stay above or below their mean [d]: weather, growth, a lead plugged in last
 * weeks to some months. Assumed two months.
 */
const NOISE_MEMORY_DAYS = DAYS_PER_YEAR / 6
/** Part of a year's noise that does not even out however long the interval: films, coatings, neighbours that wear. Assumed half. */
const LASTING_SHARE = 0.5

/**
 * Variance of the process noise of an interval by its exposure, over that of a year: one part lasts, of the other a long interval
 * has had time to even out. The mean over E of a stationary process whose correlation falls as e^(−t/τ) has the variance
 *
 *     g(x) = (2/x)·(1 − (1 − e^(−x))/x),  x = E/τ
 *
 * of its own, from 1 for a moment to 2/x for long.
 *
 * @param exposureDays E ≥ 0 [d]
 * @returns ½ + ½·g(E/τ)/g(1 year/τ) [–]
 * @see Priestley, Spectral Analysis and Time Series (1981), 5.3.2, for the variance of a time average; from memory
 * @example noiseScale(365.25) // 1
 */
export function noiseScale(exposureDays: number): number {
  const averaging = averaged(exposureDays / NOISE_MEMORY_DAYS) / averaged(DAYS_PER_YEAR / NOISE_MEMORY_DAYS)
  return LASTING_SHARE + (1 - LASTING_SHARE) * averaging
}

/** Below this the series is closer than the difference of near numbers. */
const SMALL = 1e-3

function averaged(x: number): number {
  return x < SMALL ? 1 - x / 3 : (2 / x) * (1 + Math.expm1(-x) / x)
}
