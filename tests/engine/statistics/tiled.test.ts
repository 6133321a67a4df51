import { describe, expect, it } from 'vitest'
import { factorTiled, invertTiled, paddedOrder } from '../../../src/engine/statistics/linear-algebra/tiled.js'
import { uniforms } from './mixed-model/random-data.js'

/** B·B' + n·I of random B: positive definite, its condition near 1. */
function positiveDefinite(n: number): Float64Array {
  const draw = uniforms(n)
  const b = Float64Array.from({ length: n * n }, () => draw() - 0.5)
  const a = new Float64Array(n * n)
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      for (let k = 0; k < n; k++) a[i * n + j]! += b[i * n + k]! * b[j * n + k]!
    }
    a[i * n + i]! += n
  }
  return a
}

describe('factor and inverse in tiles', () => {
  // Within one panel, at its edge, and over several panels.
  it.each([3, 45, 48, 51, 147])('give A·A⁻¹ = I at order %d', (n) => {
    const a = positiveDefinite(n)
    const inverse = a.slice()
    expect(factorTiled(inverse, n)).toBe(-1)
    invertTiled(inverse, n, new Float64Array(n * n).fill(Number.NaN))
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let sum = 0
        for (let k = 0; k < n; k++) sum += a[i * n + k]! * inverse[k * n + j]!
        expect(Math.abs(sum - (i === j ? 1 : 0))).toBeLessThan(1e-12)
      }
    }
  })

  it('name the row from which a matrix is not positive definite', () => {
    const n = 51
    const a = positiveDefinite(n)
    // Row 40 repeats row 7.
    for (let k = 0; k < n; k++) {
      a[40 * n + k] = a[7 * n + k]!
      a[k * n + 40] = a[k * n + 7]!
    }
    a[40 * n + 40] = a[7 * n + 7]!
    expect(factorTiled(a, n)).toBe(40)
  })

  it('pad to whole tiles', () => {
    expect([1, 3, 4, 1003].map(paddedOrder)).toEqual([3, 3, 6, 1005])
  })
})
