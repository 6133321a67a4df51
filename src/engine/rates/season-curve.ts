import { normalQuantile } from '../statistics/distributions/normal.js'
import { DAYS_PER_YEAR, type Season } from './season.js'

/** The yearly factor on one day, with the interval in which it lies with 80 % probability. */
export interface SeasonPoint {
  /** From 1 January, 0 [d]. */
  readonly dayOfYear: number
  readonly factor: number
  readonly low: number
  readonly high: number
}

const STEPS = 73
const UPPER = 0.9

/**
 * The season over a year:
 *
 *     s(t) = exp(a·cos φ + b·sin φ)/mean,  sd(log s) = √(cos²φ·sd_a² + sin²φ·sd_b²)
 *
 * the mean over a year being 1. The errors of a and b count as independent: they are kept apart.
 *
 * @param se standard errors of the amplitudes [–]
 * @returns from 1 January to 1 January, every five days
 */
export function seasonCurve(season: Season, se: { readonly cos: number; readonly sin: number }): SeasonPoint[] {
  const days = Array.from({ length: STEPS + 1 }, (_, step) => (step * DAYS_PER_YEAR) / STEPS)
  const angles = days.map((day) => (2 * Math.PI * (day - season.warmestDay)) / DAYS_PER_YEAR)
  const logs = angles.map((angle) => season.cos * Math.cos(angle) + season.sin * Math.sin(angle))
  // The first day is the last one of the year before: it counts once in the mean.
  const mean = logs.slice(1).reduce((sum, log) => sum + Math.exp(log), 0) / STEPS
  return days.map((dayOfYear, step) => {
    const angle = angles[step]!
    const factor = Math.exp(logs[step]!) / mean
    const reach = normalQuantile(UPPER) * Math.hypot(Math.cos(angle) * se.cos, Math.sin(angle) * se.sin)
    return { dayOfYear, factor, low: factor * Math.exp(-reach), high: factor * Math.exp(reach) }
  })
}
