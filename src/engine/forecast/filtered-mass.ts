import { type MassState, varianceOfLoss } from '../rates/mass-states.js'
import type { Prediction } from '../statistics/mixed-model/types.js'

/** Consumption since the mass m₀ with its variance, at one state. */
export interface FilteredConsumption {
  readonly on: number
  /** Since the first state [d]. */
  readonly exposureDays: number
  readonly consumption: number
  readonly variance: number
}

/**
 * What an anode had lost by each weighing, every weighing weighed against what the rate led one to expect since the one
 * before: a judgement by eye moves a well-known mass little, a scale settles it.
 *
 *     predict: U⁻ = U + e^f·ΔE,  P⁻ = P + (e^f·ΔE)²·τ²
 *     update:  G = P⁻/(P⁻ + R),  U = U⁻ + G·(U_obs − U⁻),  P = (1 − G)·P⁻
 *
 * with f, τ² the mean and variance of the log rate and R the variance of the weighing's error (Kalman's filter; Kalman,
 * J. Basic Eng. 82 (1960) 35–45).
 *
 * @param states at least one
 * @returns one a state, in order
 * @param logRate of a new interval, its noise included
 */
export function filterConsumption(states: readonly MassState[], logRate: Prediction): FilteredConsumption[] {
  const ratePerDay = Math.exp(logRate.mean)
  const path: FilteredConsumption[] = []
  for (const state of states) {
    const { on, exposureDays } = state
    const before = path.at(-1)
    if (before === undefined) {
      path.push({ on, exposureDays, consumption: state.consumption, variance: state.variance })
      continue
    }
    const expected = ratePerDay * (exposureDays - before.exposureDays)
    const predicted = before.variance + expected ** 2 * logRate.variance
    const error =
      varianceOfLoss(state.consumption - before.consumption, state.variance + before.variance) - before.variance
    const gain = predicted / (predicted + Math.max(state.variance, error))
    const mean = before.consumption + expected
    const consumption = mean + gain * (state.consumption - mean)
    path.push({ on, exposureDays, consumption, variance: (1 - gain) * predicted })
  }
  return path
}
