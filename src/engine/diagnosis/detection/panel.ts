import { noiseScale } from '../../rates/noise-memory.js'
import type { RateModel } from '../../rates/rate-model.js'
import { factorInPlace, invertInPlace } from '../../statistics/linear-algebra/cholesky.js'
import { RESIDUAL } from '../../statistics/mixed-model/types.js'
import type { JudgedLoss } from './judged-losses.js'
import { lossScore } from './loss-score.js'
import type { LinearPrediction, RowPredictor } from './predict-rows.js'

/** Losses judged together: each as predicted without any of them, and how the predictions hang together. */
export interface Panel {
  readonly losses: readonly JudgedLoss[]
  /** Normal score of each loss by itself: above 0 is faster. */
  readonly scores: Float64Array
  /** Loss predicted without the panel [g]. */
  readonly expected: Float64Array
  /** Standard deviation of the log of what is found over what is expected, by prediction, noise and weighing. */
  readonly sds: Float64Array
  /** Correlation of the scores, row by row. */
  readonly correlation: Float64Array
}

/**
 * What of an interval's noise a boat's anodes have in common at one time: its current wanders with the weather, with cruises and
 * with what is switched on. Convention; what it leaves over is found by `nullScale`.
 */
const NOISE_TOGETHER = 0.4

/**
 * Judges losses as if none of them had been seen. Their tail weights, which made them count for little in the fit, do not count
 * here: each gets the noise of an ordinary interval.
 *
 * @returns `null` where the losses cannot be predicted without each other
 */
export function judgeTogether(predictor: RowPredictor, losses: readonly JudgedLoss[]): Panel | null {
  const { model } = predictor
  const n = losses.length
  const linear = predictor.predict(losses.flatMap(({ rows }) => rows))
  if (linear === null) return null
  const { expected, covariance } = gather(model, losses, linear)
  const noises = losses.map(({ exposureDays }) => model.variances[RESIDUAL]! * noiseScale(exposureDays))
  const scores = Float64Array.from(losses, (loss, i) => {
    const score = lossScore(
      {
        logMean: Math.log(expected[i]! / loss.exposureDays),
        logVariance: Math.max(0, covariance[i * n + i]!),
        noiseVariance: noises[i]!,
        errorVariance: loss.errorVariance,
        exposureDays: loss.exposureDays,
      },
      loss.consumption,
    )
    return loss.isSpent ? Math.max(0, score) : score
  })
  const sizes = losses.map((loss, i) => Math.max(expected[i]!, fittedLoss(model, loss)))
  const sds = correlate(losses, sizes, noises, covariance)
  return { losses, scores, expected, sds, correlation: covariance }
}

/** Predictions of rows as predictions of losses: losses add up, and their logs by their shares of the sum. */
function gather(model: RateModel, losses: readonly JudgedLoss[], { rows, logRates, covariance }: LinearPrediction) {
  const n = losses.length
  const count = rows.length
  const expected = new Float64Array(n)
  const owner = losses.flatMap(({ rows: own }, i) => own.map(() => i))
  const parts = rows.map((row, k) => Math.exp(logRates[k]!) * model.intervals[row]!.context.exposure.days)
  parts.forEach((part, k) => {
    expected[owner[k]!]! += part
  })
  const gathered = new Float64Array(n * n)
  for (let k = 0; k < count; k++) {
    const [i, own] = [owner[k]!, parts[k]! / expected[owner[k]!]!]
    for (let l = 0; l < count; l++) {
      const j = owner[l]!
      gathered[i * n + j]! += own * (parts[l]! / expected[j]!) * covariance[k * count + l]!
    }
  }
  return { expected, covariance: gathered }
}

/** The loss as the fit has it, its own noise included [g]. */
function fittedLoss({ intervals, logRates }: RateModel, { rows }: JudgedLoss): number {
  return rows.reduce((sum, row) => sum + Math.exp(logRates[row]!) * intervals[row]!.context.exposure.days, 0)
}

/**
 * Adds noise and weighing to the covariance of the predictions and makes it a correlation, in place.
 *
 * @param sizes of the losses, over which the errors of the weighings are taken [g]: those expected, or larger ones found, for a boat
 * of which nothing else is known may lose ten times what was expected
 * @returns the standard deviations
 */
function correlate(
  losses: readonly JudgedLoss[],
  sizes: readonly number[],
  noises: readonly number[],
  covariance: Float64Array,
): Float64Array {
  const n = losses.length
  losses.forEach((loss, i) => {
    covariance[i * n + i] = Math.max(0, covariance[i * n + i]!)
    losses.forEach((other, j) => {
      const common = i === j ? 1 : NOISE_TOGETHER * overlap(loss, other)
      const noise = common * Math.sqrt(noises[i]! * noises[j]!)
      covariance[i * n + j]! += noise + sharedError(loss, other) / (sizes[i]! * sizes[j]!)
    })
  })
  const sds = Float64Array.from(losses, (_, i) => Math.sqrt(covariance[i * n + i]!))
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) covariance[i * n + j]! /= sds[i]! * sds[j]!
  return sds
}

/** Days in common over the geometric mean of the days of each: 1 for the same time. */
function overlap(one: JudgedLoss, other: JudgedLoss): number {
  if (one.boat !== other.boat) return 0
  const days = Math.min(one.to, other.to) - Math.max(one.from, other.from)
  return days <= 0 ? 0 : days / Math.sqrt((one.to - one.from) * (other.to - other.from))
}

/** Covariance of the errors of two losses [g²]: those of one anode that follow one another share a weighing. */
function sharedError(one: JudgedLoss, other: JudgedLoss): number {
  if (one === other) return one.errorVariance
  if (one.anode !== other.anode) return 0
  if (one.to === other.from) return -one.toVariance
  return other.to === one.from ? -one.fromVariance : 0
}

/** Strength of a shift along a pattern, as a panel tells it: its estimate is response/information. */
export interface ShiftEvidence {
  readonly response: number
  readonly information: number
}

/** A panel, or what is left of it, ready to be asked about shifts of its log rates. */
export class PanelView {
  readonly panel: Panel
  /** Positions in the panel that are looked at. */
  readonly kept: readonly number[]
  readonly #precision: Float64Array
  readonly #weighted: Float64Array

  private constructor(panel: Panel, kept: readonly number[], precision: Float64Array) {
    this.panel = panel
    this.kept = kept
    this.#precision = precision
    const n = kept.length
    this.#weighted = Float64Array.from(kept, (_, a) => {
      let sum = 0
      for (let b = 0; b < n; b++) sum += precision[a * n + b]! * panel.scores[kept[b]!]!
      return sum
    })
  }

  /** @returns `null` where nothing is left, or it does not tell itself apart */
  static of(panel: Panel, kept: readonly number[]): PanelView | null {
    const n = kept.length
    const matrix = subMatrix(panel, kept)
    if (n === 0 || factorInPlace(matrix, n) >= 0) return null
    invertInPlace(matrix, n)
    return new PanelView(panel, kept, matrix)
  }

  /** @param pattern share of the shift that each loss kept has, in the order of `kept` */
  evidence(pattern: ArrayLike<number>): ShiftEvidence {
    const { kept, panel } = this
    const n = kept.length
    let response = 0
    let information = 0
    for (let a = 0; a < n; a++) {
      if (pattern[a] === 0) continue
      const own = pattern[a]! / panel.sds[kept[a]!]!
      response += own * this.#weighted[a]!
      let row = 0
      for (let b = 0; b < n; b++) row += this.#precision[a * n + b]! * (pattern[b]! / panel.sds[kept[b]!]!)
      information += own * row
    }
    return { response, information }
  }

  /**
   * Standard normal score of each group of losses, given all losses in groups before it and nothing after: of a shift that they
   * share. With the correlation R = L·L', the parts of L⁻¹s are independent, and a shift d of one group is L⁻¹d there.
   *
   * @param groups places among the losses kept: all of them, once, in order
   */
  innovations(groups: readonly (readonly number[])[]): number[] {
    const { kept, panel } = this
    const n = kept.length
    const factor = subMatrix(panel, kept)
    factorInPlace(factor, n)
    const scores = solveLower(
      factor,
      Float64Array.from(kept, (i) => panel.scores[i]!),
    )
    return groups.map((members) => {
      const shift = new Float64Array(n)
      for (const a of members) shift[a] = 1 / panel.sds[kept[a]!]!
      const own = solveLower(factor, shift)
      let response = 0
      let information = 0
      for (const a of members) {
        response += own[a]! * scores[a]!
        information += own[a]! ** 2
      }
      return response / Math.sqrt(information)
    })
  }

  /** Squared distance of the logs of what was found over what was expected from a pattern of shifts, standardised. */
  distance(found: ArrayLike<number>, pattern: ArrayLike<number>): number {
    const { kept, panel } = this
    const n = kept.length
    const off = Float64Array.from(kept, (i, a) => (found[a]! - pattern[a]!) / panel.sds[i]!)
    let sum = 0
    for (let a = 0; a < n; a++) {
      let row = 0
      for (let b = 0; b < n; b++) row += this.#precision[a * n + b]! * off[b]!
      sum += off[a]! * row
    }
    return sum
  }
}

/** The correlation of some losses of a panel. */
function subMatrix({ correlation, losses }: Panel, kept: readonly number[]): Float64Array {
  const n = kept.length
  const matrix = new Float64Array(n * n)
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++) matrix[a * n + b] = correlation[kept[a]! * losses.length + kept[b]!]!
  return matrix
}

/** L⁻¹x. */
function solveLower(factor: Float64Array, x: Float64Array): Float64Array {
  const n = x.length
  const solution = Float64Array.from(x)
  for (let i = 0; i < n; i++) {
    let value = solution[i]!
    for (let j = 0; j < i; j++) value -= factor[i * n + j]! * solution[j]!
    solution[i] = value / factor[i * n + i]!
  }
  return solution
}

/** Standard normal score of a shift. */
export function scoreOf({ response, information }: ShiftEvidence): number {
  return information > 0 ? response / Math.sqrt(information) : 0
}
