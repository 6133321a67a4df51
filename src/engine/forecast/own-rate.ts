import type { ObservedAnode } from '../rates/mass-states.js'
import { noiseScale } from '../rates/noise-memory.js'
import { fittedVariance } from '../rates/rate-intervals.js'
import { predictLogRate, type RateModel } from '../rates/rate-model.js'
import { RESIDUAL_DEGREES_OF_FREEDOM } from '../rates/rate-priors.js'
import { rowsOfAnode } from '../rates/rows-of-anode.js'
import { type LinearTarget, type MixedModelFit, type Prediction, RESIDUAL } from '../statistics/mixed-model/types.js'

/**
 * A Student t pulls hardest where the noise is √ν standard deviations, and weighs an interval there by (ν + 1)/2ν. Beyond it lets go,
 * since a fault must not bend a berth or a boat.
 */
const FARTHEST_SQUARE = RESIDUAL_DEGREES_OF_FREEDOM
const WEIGHT_THERE = (RESIDUAL_DEGREES_OF_FREEDOM + 1) / (2 * RESIDUAL_DEGREES_OF_FREEDOM)

/**
 * The log rate that an anode itself goes on with: the fit's, but for its own intervals that lie farther off than where the Student t
 * pulls hardest. Those keep pulling as hard as they do there, as if they lay there. So for the anode itself more consumption never means
 * a slower rate, while boat, berth and fleet are as the fit has them.
 *
 * The fit without those rows, and each of them then entered at noise √ν·σ with the weight (ν + 1)/2ν: the influence of Huber's estimate
 * beyond the bend, that of the Student t before it.
 *
 * @see Huber, Ann. Math. Statist. 35 (1964) 73–101
 */
export function ownLogRate(model: RateModel, anode: ObservedAnode, target: LinearTarget): Prediction {
  const rows = model.fit === null ? [] : rowsFarOff(model, anode)
  if (model.fit === null || rows.length === 0) return predictLogRate(model, target)
  const targets = [target, ...rows.map((row) => model.design.target(model.intervals[row]!.context))]
  const { mean, covariance } = jointly(model.fit, targets, rows)
  rows.forEach((row, at) => {
    enter(mean, covariance, at + 1, heldInnovation(model, row, mean[at + 1]!, covariance[at + 1]![at + 1]!))
  })
  return { mean: mean[0]!, variance: Math.max(0, covariance[0]![0]!) }
}

/** Of the anode's intervals that count in the fit; one whose end was spent is a bound, not a loss. */
function rowsFarOff({ intervals, weights }: RateModel, anode: ObservedAnode): number[] {
  return rowsOfAnode(intervals, anode.history.key).filter(
    (row) => !intervals[row]!.to.spent && weights[row]! > 0 && weights[row]! < WEIGHT_THERE,
  )
}

interface Joint {
  readonly mean: number[]
  readonly covariance: number[][]
}

/** Mean and covariance of linear functions with rows left out; cov(a, b) = (var(a + b) − var(a) − var(b))/2. */
function jointly(fit: MixedModelFit, targets: readonly LinearTarget[], withoutRows: readonly number[]): Joint {
  const single = targets.map((target) => fit.predict(target, withoutRows))
  const covariance = targets.map((one, i) =>
    targets.map((other, j) => {
      if (i === j) return single[i]!.variance
      const both = fit.predict(j < i ? sumOf(other, one) : sumOf(one, other), withoutRows).variance
      return (both - single[i]!.variance - single[j]!.variance) / 2
    }),
  )
  return { mean: single.map(({ mean }) => mean), covariance }
}

function sumOf(a: LinearTarget, b: LinearTarget): LinearTarget {
  const terms = new Set([...Object.keys(a.random), ...Object.keys(b.random)])
  return {
    fixed: a.fixed.map((x, column) => x + b.fixed[column]!),
    random: Object.fromEntries(
      [...terms].map((term) => [term, [...(a.random[term] ?? []), ...(b.random[term] ?? [])]]),
    ),
  }
}

/** How far an interval lies from what was expected, held at the bend, and the variance of its noise and error there. */
interface Innovation {
  readonly distance: number
  readonly variance: number
}

/** Linearising there needs the rate there: each round takes the error where the last one put it. */
const ROUNDS = 6

function heldInnovation(model: RateModel, row: number, mean: number, variance: number): Innovation {
  const interval = model.intervals[row]!
  const { days } = interval.context.exposure
  const oneSd = model.variances[RESIDUAL]! * noiseScale(days)
  const noise = oneSd / WEIGHT_THERE
  const observed = model.fit!.data.y[row]! - mean
  let error = 0
  let farthest = 0
  for (let round = 0; round < ROUNDS; round++) {
    const whole = variance + noise + error
    // The expected square of the noise is what counts, its own uncertainty included.
    const unknown = noise - noise ** 2 / whole
    farthest = (Math.sqrt(Math.max(0, FARTHEST_SQUARE * oneSd - unknown)) * whole) / noise
    const logRate = mean + (Math.sign(observed) * farthest * (variance + noise)) / whole
    error = fittedVariance(interval) / (Math.exp(logRate) * days) ** 2
  }
  const distance = Math.sign(observed) * Math.min(Math.abs(observed), farthest)
  return { distance, variance: noise + error }
}

/** One step of Kalman's: what is believed of all of them once one was seen. */
function enter(mean: number[], covariance: number[][], seen: number, { distance, variance }: Innovation): void {
  const whole = covariance[seen]![seen]! + variance
  const gain = covariance.map((row) => row[seen]! / whole)
  const before = covariance[seen]!.slice()
  gain.forEach((share, i) => {
    mean[i]! += share * distance
    for (let j = 0; j < mean.length; j++) covariance[i]![j]! -= share * before[j]!
  })
}
