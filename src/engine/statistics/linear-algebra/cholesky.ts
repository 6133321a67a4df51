import { addScaled, dot } from './dense.js'

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

/** L⁻¹·B in place, B of n rows and `columns` columns. */
export function solveLower(factor: Float64Array, n: number, b: Float64Array, columns: number): void {
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) addScaled(b, i * columns, b, k * columns, columns, -factor[i * n + k]!)
    const pivot = 1 / factor[i * n + i]!
    for (let c = 0; c < columns; c++) b[i * columns + c]! *= pivot
  }
}

/** A⁻¹·B in place from the factor of A, B of n rows and `columns` columns. */
export function solveFactored(factor: Float64Array, n: number, b: Float64Array, columns: number): void {
  solveLower(factor, n, b, columns)
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) addScaled(b, i * columns, b, k * columns, columns, -factor[k * n + i]!)
    const pivot = 1 / factor[i * n + i]!
    for (let c = 0; c < columns; c++) b[i * columns + c]! *= pivot
  }
}

/** A⁻¹ (both triangles) from the factor of A. */
export function inverseFromFactor(factor: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n)
  for (let i = 0; i < n; i++) inverse[i * n + i] = 1
  solveFactored(factor, n, inverse, n)
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const mean = (inverse[i * n + j]! + inverse[j * n + i]!) / 2
      inverse[i * n + j] = mean
      inverse[j * n + i] = mean
    }
  }
  return inverse
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
  solveFactored(factor, n, x, 1)
  return x
}
