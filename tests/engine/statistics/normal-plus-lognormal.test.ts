import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../src/engine/errors.js'
import { normalCdf, normalDensity } from '../../../src/engine/statistics/distributions/normal.js'
import {
  type NormalPlusLognormal,
  normalPlusLognormalCdf,
  normalPlusLognormalQuantile,
} from '../../../src/engine/statistics/distributions/normal-plus-lognormal.js'

/** The same probability by Simpson's rule over the lognormal's exponent: the other order of integration. */
function simpson({ mean, sd, logMean, logSd, factor }: NormalPlusLognormal, x: number): number {
  const steps = 4000
  const from = -9
  const h = 18 / steps
  let sum = 0
  for (let i = 0; i <= steps; i++) {
    const z = from + i * h
    const value = normalDensity(z) * normalCdf((x - factor * Math.exp(logMean + logSd * z) - mean) / sd)
    sum += (i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2) * value
  }
  return (sum * h) / 3
}

describe('the sum of a normal and a lognormal', () => {
  it('has the probability that integration in the other order gives', () => {
    for (const sd of [1, 8, 30]) {
      const sum = { mean: 120, sd, logMean: Math.log(1.4), logSd: 0.35, factor: 200 }
      for (const x of [150, 250, 380, 400, 600]) expect(normalPlusLognormalCdf(sum, x)).toBeCloseTo(simpson(sum, x), 5)
    }
  })

  // Limits: without the one part it is the other. Quantile of a lognormal: exp(μ + z·σ), z(0.9) = 1.2815515655446004.
  it('is lognormal or normal where the other part is nothing', () => {
    const sum = { mean: 0, sd: 0, logMean: 2, logSd: 0.5, factor: 3 }
    expect(normalPlusLognormalQuantile(sum, 0.9)).toBeCloseTo(3 * Math.exp(2 + 0.5 * 1.2815515655446004), 9)
    expect(normalPlusLognormalCdf(sum, 3 * Math.exp(2))).toBeCloseTo(0.5, 12)
    const normal = { mean: 5, sd: 2, logMean: 0, logSd: 1, factor: 0 }
    expect(normalPlusLognormalQuantile(normal, 0.9)).toBeCloseTo(5 + 2 * 1.2815515655446004, 9)
  })

  it('has quantiles that its probability takes back, in order', () => {
    const sums = fc.record({
      mean: fc.double({ min: -500, max: 500, noNaN: true }),
      sd: fc.double({ min: 0, max: 50, noNaN: true }),
      logMean: fc.double({ min: -3, max: 2, noNaN: true }),
      logSd: fc.double({ min: 0.1, max: 1.2, noNaN: true }),
      factor: fc.double({ min: 1, max: 1000, noNaN: true }),
    })
    fc.assert(
      fc.property(sums, (sum) => {
        const quantiles = [0.05, 0.1, 0.5, 0.9, 0.95].map((p) => normalPlusLognormalQuantile(sum, p))
        expect([...quantiles].sort((a, b) => a - b)).toEqual(quantiles)
        quantiles.forEach((x, i) => {
          expect(normalPlusLognormalCdf(sum, x)).toBeCloseTo([0.05, 0.1, 0.5, 0.9, 0.95][i]!, 4)
        })
      }),
      { numRuns: 60 },
    )
  })

  it('refuses spreads below zero', () => {
    const sum = { mean: 0, sd: -1, logMean: 0, logSd: 1, factor: 1 }
    expect(() => normalPlusLognormalCdf(sum, 1)).toThrow(OutOfRange)
    expect(() => normalPlusLognormalCdf({ ...sum, sd: 1, factor: Number.NaN }, 1)).toThrow(OutOfRange)
  })
})
