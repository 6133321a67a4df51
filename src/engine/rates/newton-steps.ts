import type { RateRows } from './working-data.js'

/** A log rate moves by at most this in one step, so that a loss far from its expectation cannot throw the iteration. */
const LONGEST_STEP = 1
/** Where a step turned back on the one before, it overshot: the next is this much shorter, then they grow again. */
const SHORTER = 0.5
const LONGER = 1.5

/**
 * Steps of the log rates towards the mode of the linearised model, again and again, until the mode is where they are.
 *
 * That model knows only the slope of the likelihood −(u − μ)²/2v, whose curvature in η = log k is μ·(2μ − u)/v rather than
 * μ²/v: where less was lost than expected, its steps are too long by the ratio of the two curvatures, the residual's
 * included, and are shortened by it.
 *
 *     step = (mode − η)·(μ²/v + 1/s)/(μ·(2μ − u)/v + 1/s),   s the residual variance of the row
 *
 * Neighbours that share an uncertain weighing may still swing against each other; a row whose steps turn takes shorter ones.
 */
export class NewtonSteps {
  readonly #rows: RateRows
  readonly #share: Float64Array
  readonly #last: Float64Array

  constructor(rows: RateRows) {
    this.#rows = rows
    this.#share = new Float64Array(rows.intervals.length).fill(1)
    this.#last = new Float64Array(rows.intervals.length)
  }

  /** @param residualVariances of each row, its tail weight included */
  next(logRates: Float64Array, mode: Float64Array, residualVariances: Float64Array): Float64Array {
    return logRates.map((now, row) => {
      const distance = mode[row]! - now
      const turned = distance * this.#last[row]! < 0
      const share = turned ? this.#share[row]! * SHORTER : Math.min(1, this.#share[row]! * LONGER)
      this.#share[row] = share
      this.#last[row] = distance
      const step = share * this.#curvatureRatio(row, now, residualVariances[row]!) * distance
      return now + Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, step))
    })
  }

  #curvatureRatio(row: number, logRate: number, residualVariance: number): number {
    const { consumption, context, to } = this.#rows.intervals[row]!
    if (to.spent) return 1
    const variance = this.#rows.variance[row]!
    const mu = Math.exp(logRate) * context.exposure.days
    const linear = mu ** 2 / variance + 1 / residualVariance
    const curved = (mu * (2 * mu - consumption)) / variance + 1 / residualVariance
    return curved > linear ? linear / curved : 1
  }
}
