import type { RateModel } from '../../rates/rate-model.js'
import { factorInPlace, invertInPlace } from '../../statistics/linear-algebra/cholesky.js'
import { RESIDUAL } from '../../statistics/mixed-model/types.js'

/** Log rates of rows as predicted without any of them, and their covariance, the noise of the intervals left out. */
export interface LinearPrediction {
  readonly rows: readonly number[]
  readonly logRates: Float64Array
  readonly covariance: Float64Array
}

/** Predicts rows of a model as if none of them had been seen. */
export class RowPredictor {
  readonly model: RateModel
  readonly #links = new Map<number, { readonly other: number; readonly covariance: number }[]>()

  constructor(model: RateModel) {
    this.model = model
    for (const { row, other, covariance } of model.fit?.data.errorCovariance ?? []) {
      this.#link(row, other, covariance)
      this.#link(other, row, covariance)
    }
  }

  /** @returns `null` without a fit, without rows, or where the rows cannot be predicted without each other */
  predict(rows: readonly number[]): LinearPrediction | null {
    const { fit, variances } = this.model
    const n = rows.length
    if (fit === null || n === 0) return null
    const { response, precision: covariance } = fit.contrasts(rows.map((row) => [{ row, weight: 1 }]))
    if (factorInPlace(covariance, n) >= 0) return null
    invertInPlace(covariance, n)
    const { data } = fit
    const logRates = Float64Array.from(rows, (row, i) => {
      let residual = 0
      for (let j = 0; j < n; j++) residual += covariance[i * n + j]! * response[j]!
      return data.y[row]! - residual
    })
    // What is left without noise and weighing is the covariance of the predictions.
    const place = new Map(rows.map((row, i) => [row, i]))
    rows.forEach((row, i) => {
      covariance[i * n + i]! -= variances[RESIDUAL]! * (data.residualScale?.[row] ?? 1) + data.errorVariance[row]!
      for (const { other, covariance: shared } of this.#links.get(row) ?? []) {
        const j = place.get(other)
        if (j !== undefined) covariance[i * n + j]! -= shared
      }
    })
    return { rows, logRates, covariance }
  }

  #link(row: number, other: number, covariance: number): void {
    const kept = this.#links.get(row)
    if (kept === undefined) this.#links.set(row, [{ other, covariance }])
    else kept.push({ other, covariance })
  }
}
