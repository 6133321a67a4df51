import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { LARGEST_SCORE, lossScore } from '../../../../src/engine/diagnosis/detection/loss-score.js'
import { normalQuantile } from '../../../../src/engine/statistics/distributions/normal.js'
import { studentQuantile } from '../../../../src/engine/statistics/distributions/student-t.js'

const PREDICTED = { logMean: Math.log(0.5), logVariance: 0, noiseVariance: 0.04, errorVariance: 0, exposureDays: 400 }

describe('lossScore', () => {
  // With neither weighing error nor doubt of the mean the log of the loss is a Student t of 10 degrees of freedom about its own.
  it.each([0.001, 0.01, 0.1, 0.5, 0.8, 0.975, 0.9999])('is the normal score of the Student t: probability %d', (p) => {
    const loss = 200 * Math.exp(0.2 * studentQuantile(p, 10))
    expect(Math.abs(lossScore(PREDICTED, loss) - normalQuantile(p))).toBeLessThan(2e-3)
  })

  it('is less sure of a heavy scale than of a fine one', () => {
    const coarse = { ...PREDICTED, errorVariance: 60 ** 2 }
    expect(Math.abs(lossScore(coarse, 40))).toBeLessThan(Math.abs(lossScore(PREDICTED, 40)))
  })

  it('never falls as the loss grows, and stays within its bounds', () => {
    const predicted = fc.record({
      logMean: fc.double({ min: -4, max: 4, noNaN: true }),
      logVariance: fc.double({ min: 0, max: 2, noNaN: true }),
      noiseVariance: fc.double({ min: 0.001, max: 0.5, noNaN: true }),
      errorVariance: fc.double({ min: 0, max: 1e4, noNaN: true }),
      exposureDays: fc.double({ min: 1, max: 3000, noNaN: true }),
    })
    const loss = fc.double({ min: 0, max: 5000, noNaN: true })
    fc.assert(
      fc.property(predicted, loss, loss, (given, a, b) => {
        const [less, more] = [lossScore(given, Math.min(a, b)), lossScore(given, Math.max(a, b))]
        expect(more).toBeGreaterThanOrEqual(less - 1e-9)
        expect(Math.abs(less)).toBeLessThanOrEqual(LARGEST_SCORE)
        expect(Math.abs(more)).toBeLessThanOrEqual(LARGEST_SCORE)
      }),
    )
  })
})
