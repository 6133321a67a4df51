import { type MassState, SLIP_SDS } from '../rates/mass-states.js'
import type { Prediction } from '../statistics/mixed-model/types.js'

/** Consumption since the mass m₀ with its variance, at one state. */
export interface FilteredConsumption {
  readonly on: number
  /** Since the first state [d]. */
  readonly exposureDays: number
  readonly consumption: number
  readonly variance: number
}

/** One state with the exposure that led to it. */
export interface FilterStep {
  readonly state: MassState
  /** Log rate of the interval before it, beyond that of the anode's course: other berths, another season. */
  readonly shift: number
  /** Variance of that interval's noise, by its own tail weight. */
  readonly noise: number
}

/** Filtered masses, and how the last one's error goes with that of the rate. */
export interface FilteredMasses {
  readonly path: readonly FilteredConsumption[]
  /** Covariance of the last consumption with the log rate [g]: whoever sees too much lost takes the rate for too high as well. */
  readonly covariance: number
}

/**
 * What an anode had lost by each weighing, together with its log rate f, every weighing weighed against what the rate led
 * one to expect since the one before, then against those after it: a judgement by eye moves a well-known mass little, a
 * scale settles it. Linearised at the rate f̂ that is believed in the end, with g = e^(f̂ + shift)·ΔE:
 *
 *     U⁻ = U + g·(1 + f − f̂) + noise,   Var noise = g²·σ²,   U_obs = U⁻ + error
 *
 * Kalman's filter for (U, f) (Kalman, J. Basic Eng. 82 (1960) 35–45), the way back by Rauch, Tung and Striebel (AIAA J. 3
 * (1965) 1445–1450). f starts from what is believed without these weighings, so that they count once. A spent anode has lost
 * all that it had: where more was to be expected, that is what it lost.
 *
 * @param steps at least one; shift and noise of the first count for nothing
 * @param before the log rate without these weighings
 * @param after the log rate with them: its mean is f̂
 */
export function filterMasses(
  steps: readonly FilterStep[],
  before: Prediction,
  after: Pick<Prediction, 'mean'>,
): FilteredMasses {
  const forward: Filtered[] = []
  for (const step of steps) {
    const last = forward.at(-1)
    forward.push(last === undefined ? firstOf(step.state, before) : nextOf(last, step, after.mean))
  }
  return { path: smoothed(forward), covariance: forward.at(-1)!.now.uf }
}

/** Mean and covariance of consumption u and log rate f. */
interface Joint {
  readonly u: number
  readonly f: number
  readonly uu: number
  readonly uf: number
  readonly ff: number
}

interface Filtered {
  readonly on: number
  readonly exposureDays: number
  /** How much of f entered u on the way here. */
  readonly gain: number
  readonly predicted: Joint
  readonly now: Joint
}

function firstOf({ on, exposureDays, consumption, variance }: MassState, rate: Prediction): Filtered {
  const now = { u: consumption, f: rate.mean, uu: variance, uf: 0, ff: rate.variance }
  return { on, exposureDays, gain: 0, predicted: now, now }
}

/** A rate far below the one it is linearised at still takes something away. */
const LEAST_SHARE = 0.1

function nextOf(last: Filtered, { state, shift, noise }: FilterStep, logRate: number): Filtered {
  const { on, exposureDays } = state
  const { u, f, uu, uf, ff } = last.now
  const gain = Math.exp(logRate + shift) * (exposureDays - last.exposureDays)
  const predicted = {
    u: u + gain * Math.max(LEAST_SHARE, 1 + f - logRate),
    f,
    uu: uu + 2 * gain * uf + gain ** 2 * (ff + noise),
    uf: uf + gain * ff,
    ff,
  }
  if (state.spent && predicted.u >= state.consumption) {
    const now = { u: state.consumption, f, uu: state.variance, uf: 0, ff }
    return { on, exposureDays, gain, predicted, now }
  }
  const error = errorOf(state.consumption - u, state.variance, uu)
  return { on, exposureDays, gain, predicted, now: updated(predicted, state.consumption, error) }
}

/**
 * Variance of the error of a weighing that shows a gain: no anode gains mass, so beyond three standard deviations of both weighings
 * it pulls no harder than it does there. Less hard, as in the fit, would take the anode for the more used up the more is left of it.
 */
function errorOf(consumption: number, variance: number, before: number): number {
  const sd = Math.sqrt(variance + before)
  return consumption < -SLIP_SDS * sd ? variance + (-consumption / (SLIP_SDS * sd) - 1) * (variance + before) : variance
}

function updated({ u, f, uu, uf, ff }: Joint, observed: number, error: number): Joint {
  const whole = uu + error
  const left = observed - u
  return {
    u: u + (uu / whole) * left,
    f: f + (uf / whole) * left,
    uu: uu - uu ** 2 / whole,
    uf: uf - (uu * uf) / whole,
    ff: ff - uf ** 2 / whole,
  }
}

function smoothed(forward: readonly Filtered[]): FilteredConsumption[] {
  let after = forward.at(-1)!.now
  const path: FilteredConsumption[] = []
  for (let at = forward.length - 1; at >= 0; at--) {
    const { on, exposureDays, now } = forward[at]!
    if (at < forward.length - 1) after = smoothedStep(now, forward[at + 1]!, after)
    path.unshift({ on, exposureDays, consumption: after.u, variance: Math.max(0, after.uu) })
  }
  return path
}

/** One step back: x + C·(x₊ − x⁻₊), P + C·(P₊ − P⁻₊)·C′, C = P·F′·(P⁻₊)⁻¹, F = [[1, gain], [0, 1]]. */
function smoothedStep(now: Joint, { predicted, gain }: Filtered, after: Joint): Joint {
  const determinant = predicted.uu * predicted.ff - predicted.uf ** 2
  if (!(determinant > 0)) return now
  // Rows of P·F′.
  const [a, b] = [now.uu + gain * now.uf, now.uf]
  const [c, d] = [now.uf + gain * now.ff, now.ff]
  const row = (x: number, y: number) => [
    (x * predicted.ff - y * predicted.uf) / determinant,
    (y * predicted.uu - x * predicted.uf) / determinant,
  ]
  const [c11, c12] = row(a, b) as [number, number]
  const [c21, c22] = row(c, d) as [number, number]
  const [du, df] = [after.u - predicted.u, after.f - predicted.f]
  const [duu, duf, dff] = [after.uu - predicted.uu, after.uf - predicted.uf, after.ff - predicted.ff]
  return {
    u: now.u + c11 * du + c12 * df,
    f: now.f + c21 * du + c22 * df,
    uu: now.uu + c11 ** 2 * duu + 2 * c11 * c12 * duf + c12 ** 2 * dff,
    uf: now.uf + c11 * c21 * duu + (c11 * c22 + c12 * c21) * duf + c12 * c22 * dff,
    ff: now.ff + c21 ** 2 * duu + 2 * c21 * c22 * duf + c22 ** 2 * dff,
  }
}
