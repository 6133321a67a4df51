import { dot } from './dense.js'

/** Pivots below this share of their diagonal entry are rounding error: the matrix is not positive definite. */
const SMALLEST_PIVOT_SHARE = 1e-14

/**
 * Cholesky factor of a symmetric positive definite matrix, in place: A = L·L', L in the lower triangle.
 * The upper triangle is neither read nor written.
 *
 * @param a order n, row by row
 * @returns −1 when done, else the first row whose pivot is not positive
 */
export function factorInPlace(a: Float64Array, n: number): number {
  for (let i = 0; i < n; i++) {
    const row = i * n
    for (let j = 0; j < i; j++) {
      a[row + j] = (a[row + j]! - dot(a, row, a, j * n, j)) / a[j * n + j]!
    }
    const diagonal = a[row + i]!
    const pivot = diagonal - dot(a, row, a, row, i)
    if (!(pivot > SMALLEST_PIVOT_SHARE * diagonal) || pivot === Number.POSITIVE_INFINITY) return i
    a[row + i] = Math.sqrt(pivot)
  }
  return -1
}

/** log|A| from its factor. */
export function logDeterminant(factor: Float64Array, n: number): number {
  let sum = 0
  for (let i = 0; i < n; i++) sum += Math.log(factor[i * n + i]!)
  return 2 * sum
}

/**
 * A⁻¹ (both triangles) in place of a small matrix with its factor in the lower triangle: first L⁻¹, column by column,
 * then A⁻¹ = L⁻ᵀ·L⁻¹, row by row; neither needs what it has overwritten.
 */
export function invertInPlace(factor: Float64Array, n: number): void {
  for (let j = 0; j < n; j++) {
    factor[j * n + j] = 1 / factor[j * n + j]!
    for (let i = j + 1; i < n; i++) {
      let sum = 0
      for (let k = j; k < i; k++) sum += factor[i * n + k]! * factor[k * n + j]!
      factor[i * n + j] = -sum / factor[i * n + i]!
    }
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0
      for (let k = i; k < n; k++) sum += factor[k * n + i]! * factor[k * n + j]!
      factor[i * n + j] = sum
      factor[j * n + i] = sum
    }
  }
}

/**
 * Solution x of A·x = b for a small symmetric positive definite A.
 *
 * @returns undefined when A is not positive definite
 */
export function solveSymmetric(a: Float64Array, b: Float64Array): Float64Array | undefined {
  const n = b.length
  const factor = Float64Array.from(a)
  if (factorInPlace(factor, n) >= 0) return undefined
  const x = Float64Array.from(b)
  for (let i = 0; i < n; i++) x[i] = (x[i]! - dot(factor, i * n, x, 0, i)) / factor[i * n + i]!
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= factor[k * n + i]! * x[k]!
    x[i]! /= factor[i * n + i]!
  }
  return x
}
