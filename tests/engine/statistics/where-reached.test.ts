import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { normalCdf, normalQuantile } from '../../../src/engine/statistics/distributions/normal.js'
import { whereReached } from '../../../src/engine/statistics/where-reached.js'

describe('whereReached', () => {
  it('finds where a smooth function reaches a value, in a third of the evaluations that halving takes', () => {
    const centre = fc.double({ min: -8, max: 8, noNaN: true })
    const sd = fc.double({ min: 0.05, max: 1, noNaN: true })
    const probability = fc.double({ min: 0.02, max: 0.98, noNaN: true })
    const halvings = Math.log2(22 / 1e-10)
    fc.assert(
      fc.property(centre, sd, probability, (mean, width, p) => {
        let evaluations = 0
        const distribution = (x: number) => {
          evaluations += 1
          return normalCdf((x - mean) / width)
        }
        const at = whereReached(distribution, p, { lower: -11, upper: 11 }, 1e-10)
        expect(Math.abs(at - mean - width * normalQuantile(p))).toBeLessThan(1e-9)
        expect(evaluations).toBeLessThan(0.7 * halvings)
        evaluations = 0
        const near = mean + width * normalQuantile(p)
        const bounds = { lower: -11, upper: 11, likely: [near - 0.2 * width, near + 0.4 * width] as const }
        expect(Math.abs(whereReached(distribution, p, bounds, 1e-10) - near)).toBeLessThan(1e-9)
        expect(evaluations).toBeLessThan(halvings / 3)
      }),
    )
  })

  it('finds a step, from a guess on either side of it too', () => {
    const step = (x: number) => (x < 3.3 ? 0 : 1)
    for (const likely of [undefined, [-5, -4], [4, 5], [3, 4]] as const) {
      const bounds = { lower: -11, upper: 11, ...(likely && { likely }) }
      const at = whereReached(step, 0.5, bounds, 1e-9)
      expect(at).toBeGreaterThanOrEqual(3.3)
      expect(at).toBeLessThan(3.3 + 1e-8)
    }
  })

  it('gives the nearer bound where the value lies beyond', () => {
    expect(whereReached((x) => x, 20, { lower: 0, upper: 10 }, 1e-9)).toBe(10)
    expect(whereReached((x) => x, -20, { lower: 0, upper: 10, likely: [4, 5] }, 1e-9)).toBe(0)
  })
})
