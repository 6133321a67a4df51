import { dot, multiplyVector } from '../linear-algebra/dense.js'

/**
 * What the average information lacks of the Hessian, learned from how the gradient changed: S with
 * (information + S)·step ≈ change of the gradient, kept symmetric with the least change in a metric that does not depend
 * on scales. It turns the linear convergence of the average information into superlinear, at no cost in the data.
 *
 * Source: Dennis, Gay, Welsch, ACM Transactions on Mathematical Software 7 (1981) 348–368 (there S beside J'J).
 */
export class SecantCorrection {
  readonly matrix: Float64Array
  readonly #count: number

  constructor(count: number) {
    this.#count = count
    this.matrix = new Float64Array(count * count)
  }

  /** Begins anew: the scales have changed. */
  forget(): void {
    this.matrix.fill(0)
  }

  /**
   * @param step taken
   * @param change of the gradient over it
   * @param modelled information at the end of the step, times the step
   */
  learn(step: Float64Array, change: Float64Array, modelled: Float64Array): void {
    const n = this.#count
    const curvature = dot(step, 0, change, 0, n)
    if (!(curvature > 0)) {
      this.forget()
      return
    }
    const wanted = change.map((value, g) => value - modelled[g]!)
    const known = multiplyVector(this.matrix, step, n)
    const size = Math.abs(dot(step, 0, known, 0, n))
    // Old corrections that are too large for this step are scaled down first (their "sizing").
    const share = size > 0 ? Math.min(1, Math.abs(dot(step, 0, wanted, 0, n)) / size) : 1
    const missing = wanted.map((value, g) => value - share * known[g]!)
    const along = dot(step, 0, missing, 0, n) / curvature
    for (let g = 0; g < n; g++) {
      for (let h = 0; h < n; h++) {
        const rank2 = missing[g]! * change[h]! + change[g]! * missing[h]! - along * change[g]! * change[h]!
        this.matrix[g * n + h] = share * this.matrix[g * n + h]! + rank2 / curvature
      }
    }
  }
}
