/**
 * Small dense matrices as `Float64Array`, row by row. They are kept apart from a matrix class because the mixed
 * model fills and factors thousands of small ones an iteration.
 */

/** Σ a[aFrom + i]·b[bFrom + i] over `length` entries; four sums side by side, so that the processor need not wait. */
export function dot(a: Float64Array, aFrom: number, b: Float64Array, bFrom: number, length: number): number {
  let s0 = 0
  let s1 = 0
  let s2 = 0
  let s3 = 0
  let i = 0
  for (; i + 3 < length; i += 4) {
    s0 += a[aFrom + i]! * b[bFrom + i]!
    s1 += a[aFrom + i + 1]! * b[bFrom + i + 1]!
    s2 += a[aFrom + i + 2]! * b[bFrom + i + 2]!
    s3 += a[aFrom + i + 3]! * b[bFrom + i + 3]!
  }
  for (; i < length; i++) s0 += a[aFrom + i]! * b[bFrom + i]!
  return s0 + s1 + (s2 + s3)
}

/** to[toFrom + i] += factor·from[fromFrom + i] over `length` entries. */
export function addScaled(
  to: Float64Array,
  toFrom: number,
  from: Float64Array,
  fromFrom: number,
  length: number,
  factor: number,
): void {
  if (factor === 0) return
  for (let i = 0; i < length; i++) to[toFrom + i]! += factor * from[fromFrom + i]!
}

/** A·x for a square matrix of order n. */
export function multiplyVector(a: Float64Array, x: Float64Array, n: number): Float64Array {
  const product = new Float64Array(n)
  for (let i = 0; i < n; i++) product[i] = dot(a, i * n, x, 0, n)
  return product
}
