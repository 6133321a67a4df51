import type { MixedModelData, RandomTerm } from '../statistics/mixed-model/types.js'
import { noiseScale } from './noise-memory.js'
import type { RateDesign } from './rate-design.js'
import { fittedVariance, type RateInterval } from './rate-intervals.js'
import { RATE_TERMS } from './rate-priors.js'
import { spentValue, type WorkingValue } from './spent-rows.js'

/** The part of the mixed model's data that does not change from one linearisation to the next. */
export interface RateRows {
  readonly intervals: readonly RateInterval[]
  readonly fixedNames: readonly string[]
  readonly fixed: readonly Float64Array[]
  readonly random: readonly RandomTerm[]
  /** Variance of the error of each interval's consumption [g²]. */
  readonly variance: Float64Array
  /** Variance of each interval's noise, over that of a year [–]. */
  readonly noise: Float64Array
  /** Intervals that follow one another share a weighing: whatever it was off enters both, with opposite signs [g²]. */
  readonly shared: readonly { readonly row: number; readonly other: number; readonly covariance: number }[]
}

export function rateRows(design: RateDesign, intervals: readonly RateInterval[]): RateRows {
  const targets = intervals.map((interval) => design.target(interval.context))
  const fixed = design.names.map((_, column) => Float64Array.from(targets, (target) => target.fixed[column]!))
  const random = RATE_TERMS.map((name) =>
    term(
      name,
      targets.map((target) => target.random[name]!),
    ),
  )
  const variance = Float64Array.from(intervals, fittedVariance)
  const noise = Float64Array.from(intervals, ({ context }) => noiseScale(context.exposure.days))
  const shared = intervals.flatMap((interval, row) => {
    const next = intervals[row + 1]
    // A spent end has no error to share: it is a bound.
    return next?.from === interval.to && !next.to.spent
      ? [{ row, other: row + 1, covariance: -interval.to.variance }]
      : []
  })
  return { intervals, fixedNames: design.names, fixed, random, variance, noise, shared }
}

function term(name: string, rows: readonly (readonly { level: string; weight: number }[])[]): RandomTerm {
  const levels = [...new Set(rows.flatMap((row) => row.map(({ level }) => level)))]
  const index = new Map(levels.map((level, at) => [level, at]))
  return {
    name,
    levels,
    membership: rows.map((row) => row.map(({ level, weight }) => ({ level: index.get(level)!, weight }))),
  }
}

/**
 * The model linearised about the current log rates η:
 *
 *     u ≈ μ + μ·(log k − η),  μ = e^η·E   ⇒   z = η + (u − μ)/μ = log k + error/μ
 *
 * so that a loss near zero, or negative, stays an observation with its own error. A spent anode tells a bound.
 */
export function linearise(
  rows: RateRows,
  logRates: Float64Array,
): Pick<MixedModelData, 'y' | 'errorVariance' | 'errorCovariance'> {
  const expected = rows.intervals.map(({ context }, row) => Math.exp(logRates[row]!) * context.exposure.days)
  const working = rows.intervals.map(({ consumption, to }, row): WorkingValue => {
    const mu = expected[row]!
    if (to.spent) return spentValue(logRates[row]!, mu, consumption, Math.sqrt(rows.variance[row]!))
    return { value: logRates[row]! + (consumption - mu) / mu, errorVariance: rows.variance[row]! / mu ** 2 }
  })
  return {
    y: Float64Array.from(working, ({ value }) => value),
    errorVariance: Float64Array.from(working, ({ errorVariance }) => errorVariance),
    errorCovariance: rows.shared.map(({ row, other, covariance }) => ({
      row,
      other,
      covariance: covariance / (expected[row]! * expected[other]!),
    })),
  }
}
