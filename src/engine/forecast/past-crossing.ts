import { gaussHermite } from '../statistics/distributions/gauss-hermite.js'
import { normalCdf } from '../statistics/distributions/normal.js'
import type { Prediction } from '../statistics/mixed-model/types.js'
import type { FilteredConsumption } from './filtered-mass.js'

/** An anode's weighings as filtered, and the threshold it may have passed between them. */
export interface PastCourse {
  /** At least two. */
  readonly path: readonly FilteredConsumption[]
  /** Consumption by which it is due, with its standard deviation [g]. */
  readonly due: { readonly mean: number; readonly sd: number }
  /** Whether nothing was left of it at the last of them: it was used up on some day before. */
  readonly spent: boolean
  /** Variance of the log rate's noise over an exposure. */
  readonly noise: (exposureDays: number) => number
  /** Log rate of a new interval of an exposure, noise included. */
  readonly logRate: (exposureDays: number) => Prediction
}

/** Probability that the threshold was passed by an exposure from the last weighing ≤ 0, no earlier than the first. */
export type PassedBy = (exposureDays: number) => number

/** Points of a span between two weighings; between them the probability is taken as linear. */
const STEPS = 24
const RULE = gaussHermite(16)

/**
 * When a threshold that lies behind was passed: between the weighings around it, in proportion to the exposure, give or take
 * the errors of both and the noise between them, a bridge that is widest halfway.
 *
 *     U(s) ~ Normal((1 − s)·U₁ + s·U₂,  (1 − s)²·P₁ + s²·P₂ + s·(1 − s)·(U₂ − U₁)²·ν),   P(passed by s) = P(U(s) ≥ u_due)
 *
 * with s the share of the exposure between them and ν the variance of an interval's noise. An anode that was spent passed it
 * earlier than that by an unknown time: its rate K was at least what uses it up in the time, and is otherwise what its like
 * lead one to expect.
 *
 *     P(passed by e) = P(K·e ≥ u_due − U₁ | K·E ≥ U₂ − U₁)
 */
export function passedBy(course: PastCourse): PassedBy {
  const { path, due } = course
  const end = path.at(-1)!
  const exposures: number[] = []
  const probabilities: number[] = []
  let highest = 0
  path.slice(1).forEach((to, index) => {
    const from = path[index]!
    const isSpent = course.spent && to === end
    for (let step = 0; step <= STEPS; step++) {
      const share = step / STEPS
      const passed = isSpent ? passedWhenSpent(course, from, to, share) : passedAt(course, from, to, share)
      // Where a badly known mass follows a well-known one the formula may fall a little: what was passed stays so.
      highest = Math.max(highest, passed)
      exposures.push(from.exposureDays + share * (to.exposureDays - from.exposureDays) - end.exposureDays)
      probabilities.push(highest)
    }
  })
  const last = normalCdf((end.consumption - due.mean) / sdOf(end.variance, due.sd))
  return (exposureDays) => Math.min(interpolate(exposures, probabilities, exposureDays), last)
}

function passedAt({ due, noise }: PastCourse, from: FilteredConsumption, to: FilteredConsumption, share: number) {
  const lost = to.consumption - from.consumption
  const mean = from.consumption + share * lost
  const bridge = share * (1 - share) * lost ** 2 * noise(to.exposureDays - from.exposureDays)
  const variance = (1 - share) ** 2 * from.variance + share ** 2 * to.variance + bridge
  return normalCdf((mean - due.mean) / sdOf(variance, due.sd))
}

/** In logs of the exposure: a normal cut off where it would not have been used up, and an error on it by quadrature. */
function passedWhenSpent(course: PastCourse, from: FilteredConsumption, to: FilteredConsumption, share: number) {
  const { due } = course
  const left = due.mean - from.consumption
  const all = to.consumption - from.consumption
  const end = normalCdf((to.consumption - due.mean) / sdOf(to.variance, due.sd))
  if (!(left > 0 && all > left) || share === 0) return passedAt(course, from, to, share)
  const span = to.exposureDays - from.exposureDays
  const { mean, variance } = course.logRate(span)
  const standard = (logRate: number) => (logRate - mean) / Math.sqrt(variance)
  const least = standard(Math.log(all / span))
  const wanted = Math.log(left / (share * span))
  const error = Math.hypot(sdOf(from.variance, due.sd) / left, Math.sqrt(course.noise(span) / 4))
  const surely = Math.max(Number.MIN_VALUE, normalCdf(-least))
  const passed = RULE.nodes.reduce(
    (sum, node, i) => sum + RULE.weights[i]! * normalCdf(-Math.max(least, standard(wanted + error * node))),
    0,
  )
  return end * Math.min(1, passed / surely)
}

function sdOf(variance: number, dueSd: number): number {
  return Math.max(Number.MIN_VALUE, Math.hypot(Math.sqrt(variance), dueSd))
}

function interpolate(at: readonly number[], values: readonly number[], x: number): number {
  const above = at.findIndex((each) => each >= x)
  if (above <= 0) return values[above === 0 ? 0 : values.length - 1]!
  const [low, high] = [at[above - 1]!, at[above]!]
  const share = high > low ? (x - low) / (high - low) : 1
  return values[above - 1]! + share * (values[above]! - values[above - 1]!)
}
